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

/// A text of a drawing and the box that its letters take up, by their size and usual widths.
struct DrawnText {
    std::string text;
    double size = 0;
    struct {
        double left = 0, top = 0, right = 0, bottom = 0;
    } box;
};

/// As it stands in the drawing: the marks of XML are entities there.
inline std::string without_marks(std::string text) {
    for (const auto& [mark, entity] :
         {std::pair{"&", "&amp;"}, {"<", "&lt;"}, {">", "&gt;"}, {"'", "&#39;"}})
        for (std::size_t at = text.find(mark); at != std::string::npos;
             at = text.find(mark, at + std::string{entity}.size()))
            text.replace(at, 1, entity);
    return text;
}

/// The value of an attribute within a tag; empty if it has none.
inline std::string attribute_of(const std::string& tag, const std::string& name) {
    const std::string key = " " + name + "=\"";
    const std::size_t at = tag.find(key);
    if (at == std::string::npos) return {};
    return tag.substr(at + key.size(), tag.find('"', at + key.size()) - at - key.size());
}

/// Width of a letter of a plain face, em: roughly, so that a measure of our own does not check
/// itself.
inline double rough_width(unsigned char c) {
    if (c >= 0xE0) return 1;  // three bytes: a wide script
    if (std::string{" .,:;'()/ijlft1"}.find(static_cast<char>(c)) != std::string::npos) return 0.28;
    return c >= 'A' && c <= 'Z' ? 0.68 : 0.52;
}

/// Every text that is not turned.
inline std::vector<DrawnText> texts_of(const std::string& svg) {
    std::vector<DrawnText> out;
    for (std::size_t at = svg.find("<text "); at != std::string::npos;
         at = svg.find("<text ", at + 1)) {
        const std::size_t end = svg.find('>', at);
        const std::string tag = svg.substr(at, end - at);
        if (!attribute_of(tag, "transform").empty()) continue;
        DrawnText t;
        t.text = svg.substr(end + 1, svg.find("</text>", end) - end - 1);
        t.size = std::strtod(attribute_of(tag, "font-size").c_str(), nullptr);
        double ems = 0;
        for (std::size_t i = 0; i < t.text.size(); ++i) {
            const auto c = static_cast<unsigned char>(t.text[i]);
            if (c == '&') i = t.text.find(';', i);
            if (t.text.compare(i, 2, "\xE2\x81") == 0) {  // isolates of direction have no ink
                i += 2;
                continue;
            }
            if ((c & 0xC0U) != 0x80U) ems += rough_width(c);
        }
        const double x = std::strtod(attribute_of(tag, "x").c_str(), nullptr);
        const double y = std::strtod(attribute_of(tag, "y").c_str(), nullptr);
        const std::string anchor = attribute_of(tag, "text-anchor");
        const double wide = ems * t.size;
        t.box.left = anchor == "middle" ? x - wide / 2 : anchor == "end" ? x - wide : x;
        t.box.right = t.box.left + wide;
        t.box.top = y - 0.72 * t.size;
        t.box.bottom = y + 0.2 * t.size;
        out.push_back(t);
    }
    return out;
}

/// All words of a drawing in their order, with the breaks of their lines as blanks.
inline std::string words_of(const std::string& svg) {
    std::string words;
    for (const DrawnText& t : texts_of(svg))
        words += t.text + ' ';
    return words;
}
