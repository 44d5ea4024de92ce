#include "keyhour/site/quoted.hpp"

namespace keyhour::site {

std::string quoted(std::string_view text, std::size_t longest) {
    const bool cut = text.size() > longest;
    if (cut) {
        std::size_t end = longest;
        while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U)
            --end;
        text = text.substr(0, end);
    }
    std::string out = "\"";
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        out += byte < 0x20 || byte == 0x7f ? '?' : c;
    }
    return out + (cut ? "...\"" : "\"");
}

}  // namespace keyhour::site
