#pragma once
/// @file
/// CSV as RFC 4180 has it, read: fields by comma, quoted where they must be, "" for a quote inside.

#include <istream>
#include <string>
#include <vector>

namespace keyhour::read {

/// Reads record by record; a quoted field may hold commas, quotes and line ends.
class CsvReader {
public:
    explicit CsvReader(std::istream& in) : in_{in} {}

    enum class Outcome { record, damaged, end };

    /// A damaged record (quotes that do not close, or stand inside a bare field; longer than
    /// 64 kB) is skipped up to the next line end; fault() says why.
    [[nodiscard]] Outcome next(std::vector<std::string>& fields);

    /// Line at which the last record began, from 1.
    [[nodiscard]] int line() const noexcept { return record_line_; }
    /// Did the last record end in carriage return and line feed?
    [[nodiscard]] bool ended_in_crlf() const noexcept { return crlf_; }
    [[nodiscard]] const std::string& fault() const noexcept { return fault_; }

private:
    [[nodiscard]] bool read_line(std::string& line);

    std::istream& in_;
    int next_line_ = 1, record_line_ = 0;
    bool crlf_ = false;
    std::string fault_;
};

}  // namespace keyhour::read
