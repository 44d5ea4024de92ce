#include "csv_reader.hpp"

#include <cstddef>
#include <string_view>

namespace keyhour::read {
namespace {

constexpr std::size_t longest_record = std::size_t{64} << 10U;

// The state of one record across the lines that it may span.
class Record {
public:
    explicit Record(std::vector<std::string>& fields) : fields_{fields} { fields_.assign(1, {}); }

    /// @return what is wrong, or nothing
    const char* take(std::string_view line) {
        for (std::size_t i = 0; i < line.size(); ++i) {
            const char c = line[i];
            if (quoted_) {
                if (c != '"') {
                    fields_.back() += c;
                } else if (i + 1 < line.size() && line[i + 1] == '"') {
                    fields_.back() += line[++i];
                } else {
                    quoted_ = false;
                    closed_ = true;
                }
            } else if (c == ',') {
                fields_.emplace_back();
                closed_ = false;
            } else if (closed_) {
                return "something stands after a closing quote";
            } else if (c == '"') {
                if (!fields_.back().empty()) return "a quote stands inside a field without quotes";
                quoted_ = true;
            } else {
                fields_.back() += c;
            }
        }
        return nullptr;
    }
    [[nodiscard]] bool is_open() const { return quoted_; }
    void take_line_end() { fields_.back() += '\n'; }

private:
    std::vector<std::string>& fields_;
    bool quoted_ = false, closed_ = false;
};

}  // namespace

bool CsvReader::read_line(std::string& line) {
    // What is beyond the longest record is passed over, not kept: a file may be one endless line.
    constexpr int end = std::char_traits<char>::eof();
    std::streambuf& bytes = *in_.rdbuf();
    line.clear();
    int c = bytes.sbumpc();
    if (c == end) return false;
    for (; c != end && c != '\n'; c = bytes.sbumpc())
        if (line.size() <= longest_record) line += static_cast<char>(c);
    ++next_line_;
    crlf_ = !line.empty() && line.back() == '\r';
    if (crlf_) line.pop_back();
    return true;
}

CsvReader::Outcome CsvReader::next(std::vector<std::string>& fields) {
    std::string line;
    do {
        record_line_ = next_line_;
        if (!read_line(line)) return Outcome::end;
    } while (line.empty());  // a blank line is no record
    Record record{fields};
    std::size_t size = 0;
    while (true) {
        size += line.size() + 1;
        if (size > longest_record) {
            fault_ = "the record is longer than 64 kB";
            return Outcome::damaged;
        }
        if (const char* why = record.take(line)) {
            fault_ = why;
            return Outcome::damaged;
        }
        if (!record.is_open()) return Outcome::record;
        record.take_line_end();
        if (!read_line(line)) {
            fault_ = "a quote is opened and not closed";
            return Outcome::damaged;
        }
    }
}

}  // namespace keyhour::read
