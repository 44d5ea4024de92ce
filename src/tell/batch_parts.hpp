#pragma once
/// @file
/// What the lines of every question of a batch begin with, and records of CSV.

#include <fmt/format.h>

#include <array>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "batch_documents.hpp"
#include "csv.hpp"
#include "keyhour/site/dates.hpp"

namespace keyhour::tell {

/// One record; text and numbers keep apart what a spreadsheet may run.
class CsvRow {
public:
    CsvRow& text(std::string_view value) { return add(csv_text(value)); }
    CsvRow& none() { return add(""); }
    CsvRow& number(double value, int decimals) {
        return add(fmt::format("{}", rounded(value, decimals)));
    }
    CsvRow& minutes(Seconds length) { return number(length.count() / 60, 2); }
    CsvRow& utc(Instant t) { return add(site::iso_utc(t)); }
    CsvRow& local(Instant t, const site::Zone& zone) { return add(site::iso_local(t, zone)); }
    CsvRow& date(site::LocalDate d) { return add(site::iso_date(d)); }
    [[nodiscard]] std::string line() const { return line_ + "\r\n"; }

private:
    CsvRow& add(const std::string& field) {
        if (!first_) line_ += ',';
        first_ = false;
        line_ += field;
        return *this;
    }

    std::string line_;
    bool first_ = true;
};

template <std::size_t n>
[[nodiscard]] std::string head_of(const std::array<const char*, n>& names) {
    CsvRow record;
    for (const char* name : names)
        record.text(name);
    return record.line();
}

/// Version, place, question and dates.
[[nodiscard]] Json start_line(const BatchSubject& subject, const std::string& name,
                              const char* question);
[[nodiscard]] std::string line_of(const Json& document);

/// Place and dates.
[[nodiscard]] CsvRow start_record(const BatchSubject& subject, const std::string& name);
[[nodiscard]] std::string questions_of(const BatchSubject& subject);

}  // namespace keyhour::tell
