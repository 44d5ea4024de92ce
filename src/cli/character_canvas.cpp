#include "character_canvas.hpp"

#include <cstdlib>

#include "terminal.hpp"
#include "text.hpp"
#include "words/display_width.hpp"

namespace keyhour::cli {
namespace {

constexpr Signs kUtf8{"\u2588", "\u2550", "\u2248", "\u2593",
                      "\u00b7", "\u2588", "\u2592", "\u2500"};
constexpr Signs kAscii{"#", "=", "~", "H", ".", "#", "=", "-"};

/// Would the character move a terminal's cursor or turn its writing round?
bool is_control(std::string_view bytes) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(bytes[i]); };
    if (bytes.size() == 1) return byte(0) < 0x20 || byte(0) == 0x7F;
    if (bytes.size() == 2) return byte(0) == 0xC2 && byte(1) < 0xA0;  // C1
    if (bytes.size() != 3 || byte(0) != 0xE2) return false;
    return (byte(1) == 0x80 && byte(2) >= 0xAA && byte(2) <= 0xAE) ||  // U+202A to U+202E
           (byte(1) == 0x81 && byte(2) >= 0xA6 && byte(2) <= 0xA9);    // U+2066 to U+2069
}

bool names_utf8(const char* variable) {
    const char* value = std::getenv(variable);
    if (value == nullptr || *value == '\0') return false;
    std::string text{value};
    for (char& c : text)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return text.find("utf-8") != std::string::npos || text.find("utf8") != std::string::npos;
}

bool is_set(const char* variable) {
    const char* value = std::getenv(variable);
    return value != nullptr && *value != '\0';
}

}  // namespace

const Signs& signs(const CharacterSet& set) {
    return set.ascii ? kAscii : kUtf8;
}

void Canvas::write(std::size_t column, std::size_t row, std::string_view text) {
    for (const words::Glyph& g : words::glyphs(text)) {
        if (column + g.columns > columns_) return;
        if (g.columns == 0) continue;
        set(column, row, g.bytes);
        for (std::size_t i = 1; i < g.columns; ++i) {
            free(column + i, row);
            cell(column + i, row).clear();
        }
        for (std::size_t i = 0; i < g.columns; ++i)
            written_[row * columns_ + column + i] = true;
        column += g.columns;
    }
}

std::string shown(std::string_view name, const CharacterSet& set) {
    std::string out;
    for (std::size_t at = 0; at < name.size();) {
        std::size_t n = 1;
        while (at + n < name.size() && (static_cast<unsigned char>(name[at + n]) & 0xC0U) == 0x80U)
            ++n;
        const std::string_view character = name.substr(at, n);
        out += is_control(character) || (set.ascii && n > 1) ? "?" : character;
        at += n;
    }
    return out;
}

std::string cut(const std::string& text, std::size_t width) {
    if (columns(text) <= width) return text;
    return std::string{words::first_columns(text, width - 2)} + "..";
}

CharacterSet character_set(bool ascii, std::ostream& out) {
    CharacterSet set;
    // The first that is set decides, as POSIX orders them.
    const char* deciding = is_set("LC_ALL") ? "LC_ALL" : is_set("LC_CTYPE") ? "LC_CTYPE" : "LANG";
    set.ascii = ascii || !names_utf8(deciding);
    set.columns = line_columns(out);
    return set;
}

}  // namespace keyhour::cli
