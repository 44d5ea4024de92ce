#include "document.hpp"

#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

#include "keyhour/version.hpp"
#include "words/shown.hpp"

namespace keyhour::tell {

std::string json_text(const Json& document) {
    return words::json_escaped(document.dump(-1, ' ', false, Json::error_handler_t::replace));
}

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
    out << json_text(document) << '\n';
}

namespace {

/// Of an object, without its braces.
std::string members(const std::string& object) {
    return object.substr(1, object.size() - 2);
}

}  // namespace

DaysWriter::DaysWriter(std::ostream& out, const Json& head, bool is_range)
    : out_{out}, head_{json_text(head)}, is_range_{is_range} {
    head_.pop_back();  // the closing brace
}

DaysWriter::~DaysWriter() = default;

void DaysWriter::add(const Json& day) {
    const std::string text = json_text(day);
    if (!is_range_) {
        head_ += ',' + members(text);
        return;
    }
    begin_day();
    out_ << text;
}

void DaysWriter::begin_day() {
    if (is_first_)
        out_ << head_ << ",\"days\":[";
    else
        out_ << ',';
    is_first_ = false;
}

void DaysWriter::begin_list(const Json& before, const std::string& list) {
    if (is_range_) {
        begin_day();
        out_ << '{';
    } else {
        out_ << head_ << ',';
        head_.clear();
    }
    out_ << members(json_text(before)) << ",\"" << list << "\":[";
    is_list_begun_ = false;
}

void DaysWriter::add_to_list(const Json& member) {
    out_ << (is_list_begun_ ? "," : "") << json_text(member);
    is_list_begun_ = true;
}

void DaysWriter::end_list(const Json& after) {
    out_ << "]," << members(json_text(after)) << (is_range_ ? "}" : "");
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
