#include "keyhour/site/quoted.hpp"

#include "words/shown.hpp"

namespace keyhour::site {

std::string quoted(std::string_view text, std::size_t longest) {
    const bool cut = text.size() > longest;
    if (cut) {
        std::size_t end = longest;
        while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U)
            --end;
        text = text.substr(0, end);
    }
    return '"' + words::shown(text) + (cut ? "...\"" : "\"");
}

}  // namespace keyhour::site
