#pragma once
// What stands in an SVG drawing of ours, read back from its text.

#include <cstdlib>
#include <string>
#include <vector>

#include "keyhour/room/plan.hpp"

/// The text of the group with this id, without its own tags. @pre it holds no other group
inline std::string group_of(const std::string& svg, const std::string& id) {
    const std::size_t at = svg.find("<g id=\"" + id + "\"");
    if (at == std::string::npos) return {};
    const std::size_t from = svg.find('>', at) + 1;
    return svg.substr(from, svg.find("</g>", from) - from);
}

/// The rings of every path, "M1 2L3 4L5 6Z...", in the order drawn.
inline std::vector<std::vector<keyhour::room::Point2>> rings_of(const std::string& text) {
    std::vector<std::vector<keyhour::room::Point2>> rings;
    for (std::size_t at = text.find(" d=\""); at != std::string::npos;
         at = text.find(" d=\"", at + 4)) {
        const char* p = text.c_str() + at + 4;
        while (*p != '"') {
            if (*p == 'M') rings.emplace_back();
            if (*p == 'M' || *p == 'L') {
                char* end = nullptr;
                const double x = std::strtod(p + 1, &end);
                const double y = std::strtod(end, &end);
                rings.back().push_back({x, y});
                p = end;
            } else {
                ++p;
            }
        }
    }
    return rings;
}
