#include "own_output.hpp"

#include <fmt/format.h>
#include <sys/stat.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string_view>
#include <vector>

#include "file/output_place.hpp"
#include "file/run_file.hpp"
#include "keyhour/site/location.hpp"
#include "tell/batch_documents.hpp"
#include "tell/batch_lock.hpp"
#include "tell/batch_rank.hpp"
#include "tell/batch_rows.hpp"
#include "tell/compare_grid.hpp"
#include "tell/plan_document.hpp"
#include "tell/sheet_events.hpp"
#include "tell/visit_page.hpp"

namespace keyhour::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t longest_whole = std::size_t{64} << 20U;  // what is looked at as one text

struct Ends {
    std::string_view begin, mark, end;
};
/// `mark` stands within the first bytes, or at the end of a PDF.
constexpr std::array<Ends, 5> marked{{
    {"<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!-- keyhour light sheet ", "<svg ", "</svg>\n"},
    {"<!DOCTYPE html>\n<!-- keyhour light sheet -->\n<html ", "<head>", "</body>\n</html>\n"},
    {"<!DOCTYPE html>\n<!-- keyhour pocket page -->\n<html ", "<head>", "</body>\n</html>\n"},
    {"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n", "PRODID:-//keyhour//keyhour light sheet//EN\r\n",
     "END:VCALENDAR\r\n"},
    {"%PDF-", "", "\n% keyhour light sheet\n"},
}};

std::string whole_text(std::ifstream& in) {
    in.clear();
    in.seekg(0, std::ios::end);
    const auto size = static_cast<std::size_t>(std::max<std::streamoff>(0, in.tellg()));
    if (size > longest_whole) return {};
    std::string text(size, '\0');
    in.seekg(0);
    in.read(text.data(), static_cast<std::streamsize>(size));
    return in ? text : std::string{};
}

bool is_marked(const std::string& text) {
    constexpr std::size_t marked_within = 600;
    return std::ranges::any_of(marked, [&](const Ends& e) {
        return text.starts_with(e.begin) && text.ends_with(e.end) &&
               std::string_view{text}.substr(0, marked_within).find(e.mark) !=
                   std::string_view::npos;
    });
}

/// A document of JSON that says what it is: an answer, or the sheet's map.
bool is_own_document(std::string_view text) {
    const nlohmann::json document = nlohmann::json::parse(text, nullptr, false);
    if (!document.is_object()) return false;
    const auto says = [&](const char* name) {
        const auto at = document.find(name);
        return at != document.end() && at->is_string();
    };
    if (says("keyhour")) return says("question") || says("location");
    return says("source") && says("type") && document["type"] == "FeatureCollection" &&
           document["source"].get<std::string>().starts_with("keyhour light sheet ");
}

/// The number of fields of a record (RFC 4180); none if it is no sound one.
std::size_t fields_of(std::string_view record) {
    std::size_t fields = 1;
    bool quoted = false;
    for (const char c : record) {
        if (c == '"') quoted = !quoted;
        if (c == ',' && !quoted) ++fields;
    }
    return quoted ? 0 : fields;
}

/// "location,source,2026-03-10 hold_min,2026-03-10 start_local,2026-03-10 sure_min,..."
bool is_compare_head(std::string_view head) {
    constexpr std::string_view begin = "location,source,";
    constexpr std::array<std::string_view, 3> columns{" hold_min", " start_local", " sure_min"};
    constexpr std::size_t date_length = 10;
    if (!head.starts_with(begin)) return false;
    head.remove_prefix(begin.size());
    for (std::size_t i = 0; !head.empty(); ++i) {
        const std::string_view column = head.substr(0, head.find(','));
        if (column.size() < date_length ||
            column.substr(0, date_length).find_first_not_of("0123456789-") != std::string::npos ||
            column.substr(date_length) != columns[i % columns.size()])
            return false;
        head.remove_prefix(std::min(head.size(), column.size() + 1));
    }
    return true;
}

bool is_csv_head(const std::string& line) {
    static const std::array<std::string, 10> heads{tell::key_csv_head(),
                                                   tell::plan_csv_head(),
                                                   tell::exterior_csv_head(),
                                                   tell::day_csv_head(),
                                                   tell::sheet_csv({}, site::Location{}),
                                                   tell::visit_csv_head(),
                                                   tell::ranked_csv_head(tell::key_csv_head()),
                                                   tell::ranked_csv_head(tell::exterior_csv_head()),
                                                   tell::lock_csv_head(),
                                                   tell::ranked_csv_head(tell::lock_csv_head())};
    return std::ranges::find(heads, line + '\n') != heads.end() ||
           (line.ends_with('\r') &&
            is_compare_head(std::string_view{line}.substr(0, line.size() - 1)));
}

/// Looks at a text line by line, beginning with its first.
class LineJudge {
public:
    /// @return is this line one that keyhour writes, after those before it?
    bool is_own(const std::string& line) {
        if (++number_ == 1) return begins(line);
        switch (form_) {
            case Form::csv:
                return line.ends_with('\r') && fields_of(line) == fields_;
            case Form::json:
                return is_json(line);
            case Form::table:
                return number_ == 2 ? second_.empty() || line == second_ : is_row(line);
        }
        return false;
    }

private:
    enum class Form { csv, json, table } form_ = Form::table;

    bool begins(const std::string& line) {
        if (is_json(line)) {
            form_ = Form::json;
            return true;
        }
        if (is_csv_head(line)) {
            form_ = Form::csv;
            fields_ = fields_of(line);
            return true;
        }
        for (const std::string& head : {tell::batch_key_head(), tell::batch_day_head(),
                                        tell::batch_exterior_head(), tell::batch_lock_head()}) {
            const std::size_t end = head.find('\n');
            if (line != head.substr(0, end)) continue;
            second_ = head.substr(end + 1, head.size() - end - 2);
            return true;
        }
        return false;
    }

    static bool is_json(const std::string& line) {
        return line.starts_with("{\"keyhour\":\"") && line.ends_with('}') &&
               line.find("\"question\":\"") != std::string::npos;
    }

    /// "Tu 2026-03-10  ...", what goes on from the row above, or what stands for no row.
    static bool is_row(const std::string& line) {
        constexpr std::size_t least_indent = 40;
        if (line == "none fits" || line.starts_with("any date ")) return true;
        if (line.find_first_not_of(' ') >= least_indent) return true;
        return line.size() > 13 && std::isalpha(static_cast<unsigned char>(line[0])) != 0 &&
               line[2] == ' ' && line[7] == '-' && line[10] == '-';
    }

    std::size_t number_ = 0, fields_ = 0;
    std::string second_;
};

bool is_own_lines(std::ifstream& in, bool torn) {
    constexpr std::size_t longest_line = std::size_t{1} << 20U;
    LineJudge judge;
    std::vector<char> line(longest_line);
    while (in.getline(line.data(), static_cast<std::streamsize>(line.size()))) {
        if (in.eof()) return torn;  // the last one has no end
        if (!judge.is_own({line.data(), static_cast<std::size_t>(in.gcount()) - 1})) return false;
    }
    return in.eof();
}

/// The words of a text, however its lines were broken.
std::string bare_words(std::string_view text) {
    std::string out;
    for (const char c : text) {
        const bool blank = c == ' ' || c == '\n';
        if (!blank) out += c;
        if (blank && !out.empty() && out.back() != ' ') out += ' ';
    }
    return out;
}

/// The tables of --compare and --visit, by what stands above and below.
bool is_own_page(std::string_view text) {
    constexpr std::size_t looked_at = 400;
    if (!text.ends_with('\n')) return false;
    const std::string tail =
        bare_words(text.substr(text.size() - std::min(text.size(), looked_at)));
    for (const auto what : {tell::Compared::keys, tell::Compared::locks})
        if (bare_words(text.substr(0, looked_at)).starts_with(tell::compare_head(what).text))
            return tail.ends_with(
                "Any: at any bearing within the doubt that the room's file states. ");
    const std::string_view first = text.substr(0, text.find('\n'));
    return first.ends_with(" rooms") && first.find(" of ") != std::string_view::npos &&
           first.find("day ") != std::string_view::npos &&
           tail.ends_with(
               "Slack: by which the work may start later and the rest of the day still "
               "holds. ");
}

}  // namespace

bool is_own_output(const std::string& path, bool torn) {
    std::error_code error;
    if (!fs::is_regular_file(path, error)) return false;
    if (fs::file_size(path, error) == 0 && !error) return true;
    std::ifstream in{path, std::ios::binary};
    if (!in) return false;
    if (is_own_lines(in, torn)) return true;
    const std::string text = whole_text(in);
    return is_marked(text) || is_own_page(text) || (text.ends_with("}\n") && is_own_document(text));
}

bool is_same_file(const std::string& a, const std::string& b) {
    struct stat of_a {
    }, of_b{};
    return ::stat(a.c_str(), &of_a) == 0 && ::stat(b.c_str(), &of_b) == 0 &&
           of_a.st_dev == of_b.st_dev && of_a.st_ino == of_b.st_ino;
}

Failure is_an_input(const std::string& path) {
    return {wrong_usage, path +
                             ": is one of the inputs, which an output never replaces; give "
                             "another name"};
}

std::optional<Failure> may_write(const std::string& path, bool force,
                                 const std::vector<std::string>& inputs) {
    const auto place = file::output_place(path);
    if (!place) return Failure{bad_data, place.error()};
    if (file::is_being_written(*place))
        return Failure{bad_data, path + ": another run is writing it"};
    if (place->kind != file::OutputPlace::Kind::plain) return std::nullopt;
    for (const std::string& input : inputs)
        if (is_same_file(path, input)) return is_an_input(path);
    if (force) return std::nullopt;
    if (file::has_note(*place))
        return Failure{bad_data, path +
                                     ": is the output of an interrupted run; --resume goes on "
                                     "with it, --force begins anew"};
    if (is_own_output(path)) return std::nullopt;
    return Failure{bad_data,
                   path + ": is there and was not written by keyhour; --force overwrites it"};
}

}  // namespace keyhour::cli
