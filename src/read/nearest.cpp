#include "nearest.hpp"

#include <fmt/format.h>

#include "keyhour/site/nearest.hpp"

namespace keyhour::read {

std::string suggestion(std::string_view word, const std::vector<std::string>& known) {
    constexpr std::size_t shortest_begun = 3;
    constexpr std::size_t longest_name = 64;  // what is longer is no mistyped name
    auto near = word.size() <= longest_name ? site::nearest(word, known) : std::nullopt;
    if (!near && word.size() >= shortest_begun) {
        // "within" for "within_deg": begun, but not ended.
        for (const std::string& name : known) {
            if (!near && name.starts_with(word)) near = name;
        }
    }
    if (near) return fmt::format("did you mean \"{}\"?", *near);
    if (known.empty()) return "none is named in this file";
    return "accepted: " + quoted_list(known);
}

std::string quoted_list(const std::vector<std::string>& words) {
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) out += i + 1 == words.size() ? " or " : ", ";
        out += '"' + words[i] + '"';
    }
    return out;
}

}  // namespace keyhour::read
