#include "skyline_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <sstream>

#include "csv_reader.hpp"
#include "file/file_contents.hpp"
#include "nearest.hpp"

namespace keyhour::read {
namespace {

constexpr std::size_t most_skyline_bytes = std::size_t{4} << 20U;
constexpr std::size_t most_skyline_problems = 20;
const char* const a_skyline =
    "accepted: a CSV with the columns bearing_deg and altitude_deg, a header first";

struct Column {
    const char* name;
    double least, most;
};
constexpr Column bearing{"bearing_deg", 0, 360}, altitude{"altitude_deg", 0, 89};

std::string bare_word(const std::string& text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::optional<double> number(const std::string& text) {
    const std::string word = bare_word(text);
    // strtod would take "nan", "0x10" and "inf" too.
    if (word.empty() || word.find_first_not_of("+-.0123456789eE") != std::string::npos)
        return std::nullopt;
    char* end = nullptr;
    const double value = std::strtod(word.c_str(), &end);
    if (end != word.c_str() + word.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

class SkylineReader {
public:
    SkylineReader(const std::string& text, const std::string& name)
        : text_{text}, name_{name}, in_{text_}, csv_{in_} {}

    tl::expected<SkylinePoints, std::vector<Problem>> read() {
        if (read_header()) read_rows();
        if (problems_.empty() && points_.empty())
            problems_.push_back({name_, 0, 0, "the file holds no skyline", a_skyline, {}});
        if (!problems_.empty()) return tl::unexpected{std::move(problems_)};
        return std::move(points_);
    }

private:
    std::string line_text(int number) const {
        std::istringstream lines{text_};
        std::string line;
        for (int i = 0; i < number && std::getline(lines, line); ++i) {
        }
        if (!line.empty() && line.back() == '\r') line.pop_back();
        return line;
    }

    /// Where field i of the record begins, if no field before it is quoted.
    int column_of(std::size_t i) const {
        std::size_t column = 1;
        for (std::size_t k = 0; k < i; ++k)
            column += fields_[k].size() + 1;
        return static_cast<int>(column);
    }

    void complain(std::size_t field, std::string found, std::string accepted) {
        problems_.push_back({name_, csv_.line(), column_of(field), std::move(found),
                             std::move(accepted), line_text(csv_.line())});
    }

    bool next() {
        const auto outcome = csv_.next(fields_);
        if (outcome == CsvReader::Outcome::damaged) {
            fields_.assign(1, {});
            complain(0, csv_.fault(), "accepted: CSV as in RFC 4180");
            return next();
        }
        return outcome == CsvReader::Outcome::record;
    }

    bool read_header() {
        if (!next()) return false;
        if (!fields_.empty() && fields_[0].starts_with("\xEF\xBB\xBF")) fields_[0].erase(0, 3);
        const std::vector<std::string> known{bearing.name, altitude.name};
        for (std::size_t i = 0; i < fields_.size(); ++i) {
            const std::string word = bare_word(fields_[i]);
            auto& at = word == bearing.name ? bearing_at_ : altitude_at_;
            if (std::ranges::find(known, word) == known.end())
                complain(i, fmt::format("unknown column \"{}\"", word), suggestion(word, known));
            else if (at)
                complain(i, fmt::format("the column \"{}\" stands twice", word), a_skyline);
            else
                at = i;
        }
        for (const auto& [at, column] : {std::pair{bearing_at_, bearing}, {altitude_at_, altitude}})
            if (!at && problems_.empty())
                complain(0, fmt::format("the column \"{}\" is missing", column.name), a_skyline);
        return problems_.empty();
    }

    std::optional<double> value(std::size_t field, const Column& column) {
        const auto read = number(fields_[field]);
        const std::string accepted =
            fmt::format("accepted: {:g} to {:g} degrees", column.least, column.most);
        if (!read) {
            complain(field, fmt::format("{} \"{}\" is not a number", column.name, fields_[field]),
                     accepted);
        } else if (*read < column.least || *read > column.most) {
            complain(field, fmt::format("{} {:g} is out of range", column.name, *read), accepted);
            return std::nullopt;
        }
        return read;
    }

    void read_rows() {
        while (problems_.size() < most_skyline_problems && next()) {
            if (fields_.size() != 2) {
                complain(0, fmt::format("{} fields in this line", fields_.size()),
                         "accepted: two, as in the header");
                continue;
            }
            const auto b = value(*bearing_at_, bearing), a = value(*altitude_at_, altitude);
            if (!b || !a) continue;
            if (!points_.empty() && *b <= points_.back().first) {
                complain(*bearing_at_,
                         *b == points_.back().first ? fmt::format("bearing {:g} stands twice", *b)
                                                    : fmt::format("bearing {:g} comes after {:g}",
                                                                  *b, points_.back().first),
                         "bearings ascend, each once");
                continue;
            }
            if (*b == 360 && !points_.empty() && points_.front().first == 0) {
                complain(*bearing_at_, "bearing 360 beside bearing 0",
                         "each bearing stands once; 0 and 360 are the same");
                continue;
            }
            points_.emplace_back(*b, *a);
        }
    }

    const std::string& text_;
    const std::string& name_;
    std::istringstream in_;
    CsvReader csv_;
    std::vector<std::string> fields_;
    std::optional<std::size_t> bearing_at_, altitude_at_;
    SkylinePoints points_;
    std::vector<Problem> problems_;
};

}  // namespace

tl::expected<SkylinePoints, std::vector<Problem>> read_skyline_csv_text(const std::string& text,
                                                                        const std::string& name) {
    return SkylineReader{text, name}.read();
}

tl::expected<SkylinePoints, std::vector<Problem>> read_skyline_csv(const std::string& path) {
    const auto text = file::file_contents(path, most_skyline_bytes, "a skyline", a_skyline,
                                          file::Taken::plain_file);
    if (!text) return tl::unexpected{std::vector{text.error()}};
    return read_skyline_csv_text(*text, path);
}

}  // namespace keyhour::read
