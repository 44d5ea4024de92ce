#include "source_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "words/utf8.hpp"

namespace keyhour::read {

namespace {

TextPlace place_of(const toml::source_position& at) {
    return {static_cast<int>(at.line), static_cast<int>(at.column)};
}

bool is_word(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '-' || c == '.';
}

std::string_view without_indent(std::string_view line) {
    while (!line.empty() && (line.front() == ' ' || line.front() == '\t'))
        line.remove_prefix(1);
    return line;
}

/// [name] or [[name]]: the opening of a table, and not a row of numbers.
bool opens_table(std::string_view line) {
    line = without_indent(line);
    if (!line.starts_with('[')) return false;
    while (line.starts_with('['))
        line = without_indent(line.substr(1));
    return !line.empty() && ((line.front() >= 'a' && line.front() <= 'z') ||
                             (line.front() >= 'A' && line.front() <= 'Z'));
}

bool sets_key(std::string_view line) {
    line = without_indent(line);
    std::size_t n = 0;
    while (n < line.size() && is_word(line[n]))
        ++n;
    return n > 0 && without_indent(line.substr(n)).starts_with('=');
}

/// Walks through the text knowing only quotes, comments and brackets.
class LexicalScan {
public:
    explicit LexicalScan(const SourceText& source) : source_{source} {}

    std::vector<Problem> run() {
        for (line_ = 1; line_ <= source_.line_count(); ++line_)
            scan_line();
        if (in_ != In::open) report(quote_, unclosed_quote, quote_advice);
        report_open_brackets();
        std::ranges::stable_sort(problems_, {}, &Problem::line);
        return std::move(problems_);
    }

private:
    enum class In { open, basic, literal, long_basic, long_literal };
    static constexpr const char* unclosed_quote = "a quote is opened and not closed";
    static constexpr const char* quote_advice = "text stands between two straight quotes: \"...\"";

    void scan_line() {
        reported_ = false;
        rest_ = source_.line(line_);
        column_ = 1;
        if (line_ == 1 && rest_.starts_with("\xef\xbb\xbf")) rest_.remove_prefix(3);
        if (in_ == In::open && (sets_key(rest_) || opens_table(rest_))) report_open_brackets();
        while (!rest_.empty()) {
            const bool comment = in_ == In::open && rest_.front() == '#';
            if (comment) break;
            in_ == In::open ? step_outside() : step_inside();
        }
        if (in_ == In::basic || in_ == In::literal) {  // quotes of one line end with it
            report(quote_, unclosed_quote, quote_advice);
            in_ = In::open;
        }
    }

    void step_outside() {
        const char c = rest_.front();
        const std::size_t n = std::max<std::size_t>(words::utf8_length(rest_), 1);
        if (c == '"' || c == '\'') {
            const bool three = rest_.starts_with("\"\"\"") || rest_.starts_with("'''");
            quote_ = {line_, column_};
            in_ = c == '"' ? (three ? In::long_basic : In::basic)
                           : (three ? In::long_literal : In::literal);
            skip(three ? 3 : 1);
            return;
        }
        if (c == '[' || c == '{') brackets_.push_back({line_, column_});
        if ((c == ']' || c == '}') && !brackets_.empty()) brackets_.pop_back();
        const bool control = (static_cast<unsigned char>(c) < 0x20 && c != '\t') || c == 0x7f;
        if (n > 1) {
            report({line_, column_},
                   fmt::format("\"{}\" stands outside quotes", rest_.substr(0, n)),
                   "accepted there: letters a to z, digits and signs of ASCII");
        } else if (control) {
            report({line_, column_},
                   fmt::format("control character 0x{:02x}", static_cast<unsigned>(c)),
                   "accepted: printable text");
        }
        rest_.remove_prefix(n);
        ++column_;
    }

    void step_inside() {
        const bool basic = in_ == In::basic || in_ == In::long_basic;
        const bool one_line = in_ == In::basic || in_ == In::literal;
        const char mark = basic ? '"' : '\'';
        if (basic && rest_.front() == '\\' && rest_.size() > 1) {
            skip(1);
        } else if (rest_.front() == mark && one_line) {
            in_ = In::open;
        } else if (!one_line && rest_.starts_with(basic ? "\"\"\"" : "'''")) {
            in_ = In::open;
            skip(2);
        }
        const std::size_t n = std::max<std::size_t>(words::utf8_length(rest_), 1);
        rest_.remove_prefix(std::min(n, rest_.size()));
        ++column_;
    }

    void skip(std::size_t ascii) {
        rest_.remove_prefix(ascii);
        column_ += static_cast<int>(ascii);
    }

    void report_open_brackets() {
        if (brackets_.empty()) return;
        const TextPlace at = brackets_.front();
        const std::string_view text = source_.line(at.line);
        const auto characters = words::utf8_characters(text);
        const std::string_view bracket = characters[static_cast<std::size_t>(at.column - 1)];
        const bool square = bracket == "[";
        problems_.push_back(source_.problem(
            at, fmt::format("\"{}\" is opened and not closed", bracket),
            fmt::format("a \"{}\" is missing before the next key or table", square ? "]" : "}")));
        brackets_.clear();
    }

    void report(TextPlace at, std::string found, std::string accepted) {
        if (reported_) return;
        reported_ = true;
        problems_.push_back(source_.problem(at, std::move(found), std::move(accepted)));
    }

    const SourceText& source_;
    std::vector<Problem> problems_;
    std::vector<TextPlace> brackets_;
    In in_ = In::open;
    TextPlace quote_;
    std::string_view rest_;
    int line_ = 1, column_ = 1;
    bool reported_ = false;
};

}  // namespace

SourceText::SourceText(std::string_view text, std::string name)
    : name_{std::move(name)}, text_{text} {
    std::string_view rest = text_;
    while (!rest.empty()) {
        const std::size_t end = std::min(rest.find('\n'), rest.size());
        std::string_view line = rest.substr(0, end);
        if (line.ends_with('\r')) line.remove_suffix(1);
        lines_.push_back(line);
        rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    blanked_.resize(lines_.size());
}

std::string_view SourceText::line(int number) const noexcept {
    return number >= 1 && number <= line_count() ? lines_[static_cast<std::size_t>(number - 1)]
                                                 : std::string_view{};
}

std::string SourceText::between(TextPlace from, TextPlace to) const {
    if (from.line != to.line || to.column <= from.column) return {};
    constexpr std::size_t longest = 48;
    const auto characters = words::utf8_characters(line(from.line));
    std::string out;
    const std::size_t begin = static_cast<std::size_t>(std::max(from.column, 1) - 1);
    const std::size_t end = std::min(characters.size(), static_cast<std::size_t>(to.column - 1));
    for (std::size_t i = begin; i < end; ++i) {
        if (i - begin == longest) return out + "...";
        out += characters[i];
    }
    return out;
}

TextPlace SourceText::place(const toml::node& node) const {
    return place_of(node.source().begin);
}

TextPlace SourceText::place(const toml::key& key, const toml::node& node) const {
    const TextPlace at = place_of(key.source().begin);
    return at.line > 0 ? at : place(node);
}

std::string SourceText::written(const toml::node& node) const {
    const auto& region = node.source();
    std::string text = between(place_of(region.begin), place_of(region.end));
    if (text.empty()) text = node.is_table() ? "{...}" : "[...]";
    return text;
}

Problem SourceText::problem(TextPlace at, std::string found, std::string accepted) const {
    return {name_,
            at.line,
            at.column,
            std::move(found),
            std::move(accepted),
            std::string{line(at.line)}};
}

std::optional<Problem> SourceText::not_utf8() const {
    for (int number = 1; number <= line_count(); ++number) {
        std::string_view rest = line(number);
        int column = 1;
        while (!rest.empty()) {
            const std::size_t n = words::utf8_length(rest);
            if (n == 0) {
                const unsigned byte = static_cast<unsigned char>(rest.front());
                Problem p =
                    problem({number, column}, fmt::format("byte 0x{:02x} is not UTF-8", byte),
                            "accepted: a text file saved as UTF-8");
                p.source.clear();
                return p;
            }
            rest.remove_prefix(n);
            ++column;
        }
    }
    return std::nullopt;
}

std::vector<Problem> SourceText::lexical_problems() const {
    return LexicalScan{*this}.run();
}

SourceText::Lines SourceText::statement(int number) const {
    Lines lines{number, number};
    const auto begins = [this](int n) { return sets_key(line(n)) || opens_table(line(n)); };
    while (lines.first > 1 && !begins(lines.first))
        --lines.first;
    while (lines.last < line_count() && !begins(lines.last + 1))
        ++lines.last;
    if (opens_table(line(lines.first))) {
        // Without its heading a table's keys would count as those of the table above.
        while (lines.last < line_count() && !opens_table(line(lines.last + 1)))
            ++lines.last;
    }
    return lines;
}

void SourceText::blank(Lines lines) {
    for (int n = std::max(lines.first, 1); n <= std::min(lines.last, line_count()); ++n) {
        blanked_[static_cast<std::size_t>(n - 1)] = true;
    }
}

std::string SourceText::text() const {
    std::string out;
    out.reserve(text_.size() + 1);
    for (std::size_t i = 0; i < lines_.size(); ++i) {
        if (!blanked_[i]) out += lines_[i];
        out += '\n';
    }
    return out;
}

}  // namespace keyhour::read
