#include "display_width.hpp"

#include <locale.h>
#include <wchar.h>

#include <algorithm>

namespace keyhour::words {
namespace {

/// The thread's locale is one of UTF-8 while this lives; the process's own stays as it is.
class Utf8Locale {
public:
    Utf8Locale() : before_{locale() != nullptr ? ::uselocale(locale()) : nullptr} {}
    Utf8Locale(const Utf8Locale&) = delete;
    Utf8Locale& operator=(const Utf8Locale&) = delete;
    ~Utf8Locale() {
        if (before_ != nullptr) ::uselocale(before_);
    }
    [[nodiscard]] bool is_there() const { return before_ != nullptr; }

private:
    static locale_t locale() {
        static const locale_t utf8 = ::newlocale(LC_CTYPE_MASK, "C.UTF-8", nullptr);
        return utf8;
    }
    locale_t before_;
};

std::size_t length_of_character(std::string_view text) {
    std::size_t n = 1;
    while (n < text.size() && (static_cast<unsigned char>(text[n]) & 0xC0U) == 0x80U)
        ++n;
    return n;
}

/// Of one character; 1 where the system does not know.
std::size_t columns_of(std::string_view character) {
    wchar_t wide = 0;
    mbstate_t state{};
    const std::size_t read = ::mbrtowc(&wide, character.data(), character.size(), &state);
    if (read != character.size()) return 1;
    const int columns = ::wcwidth(wide);
    return columns < 0 ? 1 : static_cast<std::size_t>(columns);
}

}  // namespace

std::vector<Glyph> glyphs(std::string_view text) {
    const Utf8Locale locale;
    std::vector<Glyph> out;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = length_of_character(text.substr(at));
        const std::string_view character = text.substr(at, length);
        const std::size_t columns =
            length > 1 && locale.is_there() ? columns_of(character) : std::size_t{1};
        if (columns == 0 && !out.empty()) {
            const std::size_t before = out.back().bytes.size();
            out.back().bytes = text.substr(at - before, before + length);
        } else {
            out.push_back({character, columns});
        }
        at += length;
    }
    return out;
}

std::size_t columns(std::string_view text) {
    const auto is_ascii = [](char c) { return static_cast<unsigned char>(c) < 0x80; };
    if (std::ranges::all_of(text, is_ascii)) return text.size();
    std::size_t n = 0;
    for (const Glyph& g : glyphs(text))
        n += g.columns;
    return n;
}

std::string_view first_columns(std::string_view text, std::size_t columns) {
    std::size_t bytes = 0, taken = 0;
    for (const Glyph& g : glyphs(text)) {
        if (taken + g.columns > columns) break;
        taken += g.columns;
        bytes += g.bytes.size();
    }
    return text.substr(0, bytes);
}

}  // namespace keyhour::words
