#include "words/utf8.hpp"

#include <algorithm>

namespace keyhour::words {

namespace {

unsigned byte(std::string_view text, std::size_t i) noexcept {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
}

bool continues(std::string_view text, std::size_t i) noexcept {
    return (byte(text, i) & 0xc0U) == 0x80U;
}

}  // namespace

std::size_t utf8_length(std::string_view text) noexcept {
    const unsigned a = byte(text, 0), b = byte(text, 1);
    if (text.empty()) return 0;
    if (a < 0x80) return 1;
    if (a >= 0xc2 && a <= 0xdf) return continues(text, 1) ? 2 : 0;
    if (a >= 0xe0 && a <= 0xef) {
        const bool overlong = a == 0xe0 && b < 0xa0, surrogate = a == 0xed && b > 0x9f;
        return !overlong && !surrogate && continues(text, 1) && continues(text, 2) ? 3 : 0;
    }
    if (a >= 0xf0 && a <= 0xf4) {
        const bool overlong = a == 0xf0 && b < 0x90, beyond = a == 0xf4 && b > 0x8f;
        const bool whole = continues(text, 1) && continues(text, 2) && continues(text, 3);
        return !overlong && !beyond && whole ? 4 : 0;
    }
    return 0;
}

std::vector<std::string_view> utf8_characters(std::string_view text) {
    std::vector<std::string_view> characters;
    while (!text.empty()) {
        const std::size_t n = std::max<std::size_t>(utf8_length(text), 1);
        characters.push_back(text.substr(0, n));
        text.remove_prefix(n);
    }
    return characters;
}

}  // namespace keyhour::words
