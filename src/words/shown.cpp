#include "words/shown.hpp"

#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <vector>

#include "words/utf8.hpp"

namespace keyhour::words {
namespace {

constexpr std::uint32_t fsi = 0x2068, pdi = 0x2069;  // first strong isolate, its end
constexpr std::string_view kFsi = "\xe2\x81\xa8", kPdi = "\xe2\x81\xa9";

struct Range {
    std::uint32_t first, last;
};

/// Never shown as they are.
constexpr Range kSteering[] = {
    {0x0000, 0x001f},  // C0
    {0x007f, 0x009f},  // DEL, C1
    {0x200b, 0x200b},  // zero width space
    {0x2028, 0x202e},  // line and paragraph separator, embeddings and overrides
    {0x2060, 0x2067},  // word joiner, invisible operators, isolates of a set direction
    {0x206a, 0x206f},  // deprecated shaping
    {0xfeff, 0xfeff},  // byte order mark
    {0xfff9, 0xfffb},  // annotation
};

/// Letters of the scripts written from right to left, and the marks that stand for one.
constexpr Range kRightToLeft[] = {{0x0590, 0x08ff}, {0x200f, 0x200f},   {0xfb1d, 0xfdff},
                                  {0xfe70, 0xfefc}, {0x10800, 0x10fff}, {0x1e800, 0x1efff}};

template <std::size_t N>
bool in(const Range (&ranges)[N], std::uint32_t code) noexcept {
    for (const Range& r : ranges)
        if (code >= r.first && code <= r.last) return true;
    return false;
}

/// Of one valid character.
std::uint32_t code_point(std::string_view c) noexcept {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(c[i]); };
    switch (c.size()) {
        case 1:
            return byte(0);
        case 2:
            return (byte(0) & 0x1fU) << 6U | (byte(1) & 0x3fU);
        case 3:
            return (byte(0) & 0xfU) << 12U | (byte(1) & 0x3fU) << 6U | (byte(2) & 0x3fU);
        default:
            return (byte(0) & 0x7U) << 18U | (byte(1) & 0x3fU) << 12U | (byte(2) & 0x3fU) << 6U |
                   (byte(3) & 0x3fU);
    }
}

std::string formatted(const char* how, unsigned value) {
    char text[16];
    return {text, static_cast<std::size_t>(std::snprintf(text, sizeof text, how, value))};
}

/// Which characters are an FSI with its PDI, or such a PDI.
std::vector<bool> in_pairs(const std::vector<std::string_view>& characters) {
    std::vector<bool> paired(characters.size());
    std::vector<std::size_t> open;
    for (std::size_t i = 0; i < characters.size(); ++i) {
        if (characters[i] == kFsi) open.push_back(i);
        if (characters[i] != kPdi || open.empty()) continue;
        paired[i] = paired[open.back()] = true;
        open.pop_back();
    }
    return paired;
}

bool is_plain(std::string_view text) {
    return std::ranges::all_of(text, [](char c) { return c >= 0x20 && c < 0x7f; });
}

struct Escaped {
    std::string text;
    bool turns = false;  // letters from right to left stand outside a pair
};

Escaped escape(std::string_view text) {
    const std::vector<std::string_view> characters = utf8_characters(text);
    const std::vector<bool> paired = in_pairs(characters);
    Escaped out;
    int depth = 0;
    for (std::size_t i = 0; i < characters.size(); ++i) {
        const std::string_view c = characters[i];
        if (utf8_length(c) == 0) {
            out.text += escaped_character(c);
            continue;
        }
        const std::uint32_t code = code_point(c);
        if (paired[i]) {
            depth += code == fsi ? 1 : -1;
            out.text += c;
        } else if (code == fsi || code == pdi) {
            out.text += formatted("\\u%04x", code);
        } else {
            out.turns = out.turns || (depth == 0 && in(kRightToLeft, code));
            out.text += escaped_character(c);
        }
    }
    return out;
}

}  // namespace

std::string escaped_character(std::string_view c) {
    if (utf8_length(c) == 0) {
        std::string out;
        for (const char b : c)
            out += formatted("\\x%02x", static_cast<unsigned char>(b));
        return out;
    }
    const std::uint32_t code = code_point(c);
    if (!in(kSteering, code)) return std::string{c};
    if (c == "\n") return "\\n";
    if (c == "\r") return "\\r";
    if (c == "\t") return "\\t";
    return formatted("\\u%04x", code);
}

std::string escaped(std::string_view text) {
    return is_plain(text) ? std::string{text} : escape(text).text;
}

std::string shown(std::string_view text) {
    if (is_plain(text)) return std::string{text};
    Escaped out = escape(text);
    if (!out.turns) return std::move(out.text);
    return std::string{kFsi}.append(out.text).append(kPdi);
}

std::string with_turns_isolated(std::string_view sentence) {
    if (is_plain(sentence)) return std::string{sentence};
    std::string out, run, between;  // `between`: what may yet belong to the run
    const auto close = [&] {
        if (!run.empty()) out.append(kFsi).append(run).append(kPdi);
        out += between;
        run.clear();
        between.clear();
    };
    int depth = 0;
    for (const std::string_view c : utf8_characters(sentence)) {
        const bool valid = utf8_length(c) != 0;
        if (c == kFsi) ++depth;
        if (c == kPdi) depth = std::max(0, depth - 1);
        if (depth == 0 && valid && in(kRightToLeft, code_point(c))) {
            run.append(between).append(c);
            between.clear();
        } else if (!run.empty() && c.size() == 1 &&
                   std::string_view{" -'.0123456789"}.find(c) != std::string_view::npos) {
            between += c;
        } else {
            close();
            out += c;
        }
    }
    close();
    return out;
}

std::string json_escaped(std::string document) {
    if (is_plain(document)) return document;
    std::string out;
    for (const std::string_view c : utf8_characters(document)) {
        if (c == kFsi || c == kPdi)
            out += formatted("\\u%04x", code_point(c));
        else
            out += c == "\n" ? std::string{c} : escaped_character(c);
    }
    return out;
}

std::size_t harmless_length(std::string_view text, bool keep_line_ends) noexcept {
    std::size_t at = 0;
    while (at < text.size()) {
        const char c = text[at];
        const bool ends_line = c == '\n' || (c == '\r' && text.substr(at + 1, 1) == "\n");
        if ((c >= 0x20 && c < 0x7f) || (ends_line && keep_line_ends)) {
            ++at;
            continue;
        }
        const std::size_t n = utf8_length(text.substr(at, 4));
        if (n == 0 || in(kSteering, code_point(text.substr(at, n)))) return at;
        at += n;
    }
    return at;
}

}  // namespace keyhour::words
