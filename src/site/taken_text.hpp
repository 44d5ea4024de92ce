#pragma once

#include <algorithm>
#include <string_view>

namespace keyhour::site {

/// The text up to the mark, which is taken off with it; all of it where there is no mark.
[[nodiscard]] inline std::string_view take_up_to(char mark, std::string_view& text) {
    const std::string_view taken = text.substr(0, text.find(mark));
    text.remove_prefix(std::min(taken.size() + 1, text.size()));
    return taken;
}

}  // namespace keyhour::site
