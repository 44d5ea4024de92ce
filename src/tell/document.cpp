#include "document.hpp"

#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "keyhour/version.hpp"

namespace keyhour::tell {
namespace {

std::string text_of(const Json& document) {
    return document.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace

Json start_document(const site::Location& location, const std::vector<std::string>& read_back) {
    Json document;
    document["keyhour"] = version();
    document["location"] = location.site.name;
    document["read_back"] = read_back;
    return document;
}

double rounded(double value, int decimals) {
    if (!std::isfinite(value)) return 0;
    const double scale = std::pow(10.0, decimals);
    const double result = std::round(value * scale) / scale;
    return result == 0 ? 0 : result;  // no minus zero
}

double rounded_turn(Angle direction, int decimals) {
    const double degrees = rounded(wrapped_turn(direction).in_degrees(), decimals);
    return degrees >= 360 ? 0 : degrees;
}

void write(std::ostream& out, const Json& document) {
    out << text_of(document) << '\n';
}

DaysWriter::DaysWriter(std::ostream& out, const Json& head, bool is_range)
    : out_{out}, head_{text_of(head)}, is_range_{is_range} {
    head_.pop_back();  // the closing brace
}

DaysWriter::~DaysWriter() = default;

void DaysWriter::add(const Json& day) {
    const std::string text = text_of(day);
    if (!is_range_) {
        head_ += ',' + text.substr(1, text.size() - 2);
        return;
    }
    if (is_first_)
        out_ << head_ << ",\"days\":[";
    else
        out_ << ',';
    out_ << text;
    is_first_ = false;
}

void DaysWriter::finish() {
    if (!is_range_) {
        out_ << head_ << "}\n";
        return;
    }
    if (is_first_) out_ << head_ << ",\"days\":[";
    out_ << "]}\n";
}

}  // namespace keyhour::tell
