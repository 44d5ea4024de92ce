#include "bearing_line.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "location_file.hpp"
#include "toml.hpp"
#include "words/utf8.hpp"

namespace keyhour::read {
namespace {

constexpr std::string_view byte_order_mark = "\xef\xbb\xbf";

std::string in_quotes(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') out += '\\';
        out += c;
    }
    return out + '"';
}

std::string number(double value) {
    return fmt::format("{:.4g}", value);
}

/// Where in the bytes a place of toml++ (line and column from 1, in characters) lies.
class Offsets {
public:
    explicit Offsets(std::string_view text) : text_{text} {
        starts_.push_back(text.starts_with(byte_order_mark) ? byte_order_mark.size() : 0);
        for (std::size_t i = 0; i < text.size(); ++i)
            if (text[i] == '\n') starts_.push_back(i + 1);
    }

    [[nodiscard]] std::size_t of(const toml::source_position& at) const {
        std::size_t offset = starts_[std::min<std::size_t>(at.line, starts_.size()) - 1];
        for (std::uint32_t column = 1; column < at.column && offset < text_.size(); ++column)
            offset += std::max<std::size_t>(1, words::utf8_length(text_.substr(offset)));
        return offset;
    }
    /// First byte of the line that holds an offset, and that behind its end.
    [[nodiscard]] std::size_t line_begin(std::size_t offset) const {
        return *(std::ranges::upper_bound(starts_, offset) - 1);
    }
    [[nodiscard]] std::size_t line_end(std::size_t offset) const {
        return std::min(text_.find('\n', offset), text_.size() - 1) + 1;
    }

private:
    std::string_view text_;
    std::vector<std::size_t> starts_;
};

struct Edit {
    std::size_t begin = 0, end = 0;  ///< bytes that go
    std::string text;                ///< what comes
};

bool is_blank(char c) {
    return c == ' ' || c == '\t';
}

/// Changes the keys of one bearing table in the text, which is known to be a sound location file.
class BearingEditor {
public:
    BearingEditor(std::string_view text, const toml::table& bearing)
        : text_{text}, bearing_{bearing}, offsets_{text} {}

    /// @return false if the text's own shape is not understood
    bool change(const BearingValue& value) {
        set("wall", in_quotes(value.wall));
        set("faces", number(value.faces_deg));
        set("north", in_quotes("true"));
        if (bearing_.contains("within_deg"))
            set("within_deg", number(value.within_deg));
        else
            add_within(number(value.within_deg));
        if (bearing_.is_inline()) drop("measured");
        return sound_;
    }

    [[nodiscard]] std::string text() const {
        std::vector<Edit> edits = edits_;
        std::ranges::sort(edits, {}, &Edit::begin);
        std::string out;
        std::size_t at = 0;
        for (const Edit& e : edits) {
            out += text_.substr(at, e.begin - at);
            out += e.text;
            at = e.end;
        }
        return out += text_.substr(at);
    }

private:
    struct Range {
        std::size_t begin = 0, end = 0;
    };

    std::optional<Range> value_of(std::string_view key) {
        const toml::node* node = bearing_.get(key);
        if (!node) return std::nullopt;
        const Range range{offsets_.of(node->source().begin), offsets_.of(node->source().end)};
        if (range.begin < range.end && range.end <= text_.size()) return range;
        sound_ = false;
        return std::nullopt;
    }

    void set(std::string_view key, const std::string& value) {
        if (const auto range = value_of(key))
            edits_.push_back({range->begin, range->end, value});
        else
            sound_ = false;
    }

    /// Where the key itself begins, dotted parts before it included.
    std::size_t key_begin(std::string_view key, std::size_t value_begin) const {
        std::size_t at = text_.rfind('=', value_begin);
        if (at == std::string_view::npos) return at;
        at = text_.rfind(key, at);
        while (at != std::string_view::npos && at > 0 && !is_blank(text_[at - 1]) &&
               text_[at - 1] != '\n' && text_[at - 1] != '{' && text_[at - 1] != ',')
            --at;
        return at;
    }

    void add_within(const std::string& value) {
        const auto faces = value_of("faces");
        if (!faces) return;
        if (bearing_.is_inline()) {
            // Behind the last value, so that a blank before the brace stays where it is.
            std::size_t last = 0;
            for (const auto& [key, node] : bearing_)
                last = std::max(last, value_of(key.str()).value_or(Range{}).end);
            edits_.push_back({last, last, ", within_deg = " + value});
            return;
        }
        // A line like that of `faces`, below it.
        const std::size_t line = offsets_.line_begin(faces->begin);
        const std::size_t end = offsets_.line_end(faces->end);
        std::string copy{text_.substr(line, faces->begin - line)};
        const std::size_t at = copy.rfind("faces");
        if (at == std::string::npos) {
            sound_ = false;
            return;
        }
        copy.replace(at, std::string_view{"faces"}.size(), "within_deg");
        const bool crlf = text_.substr(line, end - line).ends_with("\r\n");
        const bool ended = text_.substr(line, end - line).ends_with('\n');
        const std::string ending = crlf ? "\r\n" : "\n";
        edits_.push_back({end, end, (ended ? "" : ending) + copy + value + (ended ? ending : "")});
    }

    /// Takes a pair out of an inline table, with the comma before it or else behind it.
    void drop(std::string_view key) {
        const auto range = value_of(key);
        if (!range) return;
        std::size_t begin = key_begin(key, range->begin), end = range->end;
        if (begin == std::string_view::npos) {
            sound_ = false;
            return;
        }
        std::size_t before = begin;
        while (before > 0 && is_blank(text_[before - 1]))
            --before;
        if (before > 0 && text_[before - 1] == ',') {
            begin = before - 1;
        } else {
            while (end < text_.size() && is_blank(text_[end]))
                ++end;
            if (end < text_.size() && text_[end] == ',') ++end;
            while (end < text_.size() && is_blank(text_[end]))
                ++end;
        }
        // What was added behind a dropped last value stays.
        for (Edit& e : edits_)
            if (e.begin == range->end && e.end == e.begin) e.begin = e.end = end;
        edits_.push_back({begin, end, ""});
    }

    std::string_view text_;
    const toml::table& bearing_;
    Offsets offsets_;
    std::vector<Edit> edits_;
    bool sound_ = true;
};

/// Is the bearing what was asked for, and the walls where they were?
bool says(const site::Location& location, const BearingValue& value) {
    if (!location.room) return false;
    const room::Bearing& b = location.room->bearing;
    return location.room->walls[b.wall] == value.wall && !b.magnetic &&
           std::abs(b.faces.in_degrees() - value.faces_deg) < 1e-9 &&
           std::abs(b.within.in_degrees() - value.within_deg) < 1e-9;
}

}  // namespace

BearingValue rounded(BearingValue value) {
    value.faces_deg = std::round(value.faces_deg * 10) / 10;
    if (value.faces_deg >= 360) value.faces_deg -= 360;
    value.within_deg = std::clamp(std::ceil(value.within_deg * 10 - 1e-6) / 10, 0.1, 45.0);
    return value;
}

std::string bearing_line(const BearingValue& value) {
    return fmt::format("bearing = {{ wall = {}, faces = {}, north = \"true\", within_deg = {} }}",
                       in_quotes(value.wall), number(value.faces_deg), number(value.within_deg));
}

tl::expected<std::string, std::string> with_bearing(std::string_view text, const std::string& name,
                                                    const BearingValue& value) {
    const auto by_hand = [&](const char* why) {
        return tl::unexpected{
            fmt::format("{}: not changed: {}; paste the line by hand", name, why)};
    };
    const toml::parse_result parsed = toml::parse(text, name);
    if (!parsed) return by_hand("it is not sound TOML");
    const toml::table* bearing = parsed.table()["room"]["bearing"].as_table();
    if (!bearing) return by_hand("it has no bearing in [room]");
    BearingEditor editor{text, *bearing};
    if (!editor.change(value)) return by_hand("its bearing is written in a way that is not known");
    std::string changed = editor.text();
    const auto again = read_location_text(changed, name);
    if (!again || !says(*again, value))
        return by_hand("with the new bearing it would not be sound");
    return changed;
}

}  // namespace keyhour::read
