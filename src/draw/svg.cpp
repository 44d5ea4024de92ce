#include "svg.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <numbers>

#include "words/shown.hpp"
#include "words/utf8.hpp"

namespace keyhour::draw {
namespace {

/// Advance widths of ASCII from the blank on, thousandths of the em: DejaVu Sans 2.37, book and
/// bold, read from its files (hmtx), rounded up.
// clang-format off
constexpr std::array<short, 95> kBook{
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361, 318, 337,  //  !"#...
    637, 637, 637, 637, 637, 637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 531,  // 0-9 :;<=>?
    1000, 685, 687, 699, 771, 632, 576, 775, 752, 295, 295, 656, 558, 863, 749, 788,  // @A-O
    604, 788, 695, 635, 611, 732, 685, 989, 686, 611, 686, 391, 337, 391, 838, 500,  // P-Z [\]^_
    500, 613, 635, 550, 635, 616, 353, 635, 634, 278, 278, 580, 278, 975, 634, 612,  // `a-o
    635, 635, 412, 521, 393, 634, 592, 818, 592, 592, 525, 637, 337, 637, 838,  // p-z {|}~
};
constexpr std::array<short, 95> kBold{
    349, 457, 521, 838, 696, 1002, 873, 307, 458, 458, 523, 838, 380, 416, 380, 366,  //  !"#...
    696, 696, 696, 696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 581,  // 0-9 :;<=>?
    1000, 774, 763, 734, 831, 684, 684, 821, 837, 373, 373, 775, 638, 996, 837, 851,  // @A-O
    733, 851, 771, 721, 683, 813, 774, 1104, 771, 725, 726, 458, 366, 458, 838, 500,  // P-Z [\]^_
    500, 675, 716, 593, 716, 679, 436, 716, 712, 343, 343, 666, 343, 1042, 712, 688,  // `a-o
    716, 716, 494, 596, 479, 712, 652, 924, 646, 652, 583, 712, 366, 712, 838,  // p-z {|}~
};
// clang-format on
/// Of accented letters, and of wide scripts.
constexpr double kAccented = 700, kWide = 1000;

double advance(std::string_view character, bool bold) {
    const auto c = static_cast<unsigned char>(character.front());
    if (c >= 0x20 && c < 0x7F) return (bold ? kBold : kBook)[c - 0x20U];
    if (character >= "\xE2\x81\xA6" && character <= "\xE2\x81\xA9") return 0;  // isolates: no ink
    return character.size() > 2 ? kWide : bold ? 1.12 * kAccented : kAccented;
}

constexpr const char* kFace = "Helvetica, Arial, 'Liberation Sans', sans-serif";

bool may_stand_in_xml(std::string_view character) {
    const auto c = static_cast<unsigned char>(character.front());
    if (c < 0x20) return c == '\t' || c == '\n' || c == '\r';
    return words::utf8_length(character) != 0 && character != "\xEF\xBF\xBE" &&
           character != "\xEF\xBF\xBF";
}

std::string point(Point2 p) {
    return fmt::format("{} {}", number(p.x), number(p.y));
}

/// Where the level line at this height lies within the rings (even-odd): from, to, from, to ...
std::vector<double> crossings(const std::vector<std::vector<Point2>>& rings, double y) {
    std::vector<double> out;
    for (const auto& ring : rings)
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const Point2 a = ring[i], b = ring[(i + 1) % ring.size()];
            if ((a.y > y) != (b.y > y)) out.push_back(a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
        }
    std::ranges::sort(out);
    return out;
}

/// Shorter ones are nothing but ink at an edge, mm.
constexpr double kLeastLine = 0.05;

}  // namespace

std::string number(double value) {
    std::string text = fmt::format("{:.2f}", std::isfinite(value) ? value : 0);
    while (text.back() == '0')
        text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

std::string escaped(std::string_view text) {
    std::string out;
    const std::string isolated = words::with_turns_isolated(text);
    for (const std::string_view c : words::utf8_characters(isolated)) {
        if (!may_stand_in_xml(c))
            out += words::utf8_length(c) == 0 || c.size() == 1 ? words::escaped_character(c)
                                                               : "\xEF\xBF\xBD";
        else if (c == "&")
            out += "&amp;";
        else if (c == "<")
            out += "&lt;";
        else if (c == ">")
            out += "&gt;";
        else if (c == "\"")
            out += "&quot;";
        else if (c == "'")
            out += "&#39;";
        else if (c == "\n" || c == "\r" || c == "\t")
            out += ' ';
        else
            out += words::escaped_character(c);
    }
    return out;
}

double text_width(std::string_view text, double size_mm, bool bold) {
    double sum = 0;
    for (const std::string_view c : words::utf8_characters(text))
        sum += advance(c, bold);
    return sum * size_mm / 1000;
}

std::string fitted(std::string_view text, double size_mm, double width_mm, bool bold) {
    if (text_width(text, size_mm, bold) <= width_mm) return std::string{text};
    std::string out;
    const double room = width_mm - text_width("...", size_mm, bold);
    for (const std::string_view c : words::utf8_characters(text)) {
        if (text_width(out + std::string{c}, size_mm, bold) > room) break;
        out += c;
    }
    while (!out.empty() && out.back() == ' ')
        out.pop_back();
    out += "...";
    return out;
}

std::vector<std::string> wrapped(std::string_view text, double size_mm, double width_mm,
                                 bool bold) {
    std::vector<std::string> lines{""};
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string_view word = text.substr(at, end - at);
        at = end + 1;
        if (word.empty()) continue;
        std::string longer = lines.back();
        if (!longer.empty()) longer += ' ';
        longer += word;
        if (lines.back().empty() || text_width(longer, size_mm, bold) <= width_mm)
            lines.back() = longer;
        else
            lines.emplace_back(word);
    }
    for (std::string& line : lines)
        line = fitted(line, size_mm, width_mm, bold);
    return lines;
}

std::string file_word(const std::string& name) {
    constexpr std::size_t longest = 60;  // two of them, a date and a number stay below 255 bytes
    std::string out;
    for (const char c : name) {
        const bool upper = c >= 'A' && c <= 'Z';
        if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || upper)
            out += upper ? static_cast<char>(c - 'A' + 'a') : c;
        else if (!out.empty() && out.back() != '-')
            out += '-';
        if (out.size() == longest) break;
    }
    while (!out.empty() && out.back() == '-')
        out.pop_back();
    return out.empty() ? "unnamed" : out;
}

Svg::Svg(DrawingFrame frame, std::string title, std::string description)
    : frame_{std::move(frame)}, title_{std::move(title)}, description_{std::move(description)} {}

void Svg::attribute(std::string_view name, std::string_view value) {
    fmt::format_to(std::back_inserter(body_), " {}=\"{}\"", name, value);
}

void Svg::style(const Stroke& stroke) {
    if (const auto* colour = std::get_if<std::string>(&stroke.fill); colour && *colour != "none")
        attribute("fill", *colour);
    if (!stroke.drawn)
        attribute("stroke", "none");
    else if (stroke.width != pen::thin)
        attribute("stroke-width", number(stroke.width));
    if (*stroke.dash != '\0') attribute("stroke-dasharray", stroke.dash);
}

void Svg::line(Point2 a, Point2 b, const Stroke& stroke) {
    path(fmt::format("M{}L{}", point(a), point(b)), stroke);
}

void Svg::polyline(const std::vector<Point2>& points, const Stroke& stroke) {
    if (points.size() < 2) return;
    std::string d;
    for (const Point2 p : points) {
        d += d.empty() ? 'M' : 'L';
        d += point(p);
    }
    path(d, stroke);
}

void Svg::shape(const std::vector<std::vector<Point2>>& rings, const Stroke& stroke,
                std::string_view more) {
    std::string d;
    for (const auto& ring : rings) {
        for (std::size_t i = 0; i < ring.size(); ++i)
            fmt::format_to(std::back_inserter(d), "{}{}", i == 0 ? 'M' : 'L', point(ring[i]));
        if (!ring.empty()) d += 'Z';
    }
    if (d.empty()) return;
    if (const auto* hatch = std::get_if<Hatch>(&stroke.fill)) draw_hatch(rings, *hatch);
    body_ += "<path";
    attribute("d", d);
    if (rings.size() > 1) attribute("fill-rule", "evenodd");
    style(stroke);
    body_ += more;
    body_ += "/>\n";
}

void Svg::draw_hatch(const std::vector<std::vector<Point2>>& rings, const Hatch& hatch) {
    std::string d = hatch_lines(rings, hatch);
    if (hatch.kind == Hatch::Kind::crossed) {
        Hatch across = hatch;
        across.angle_deg += 90;
        d += hatch_lines(rings, across);
    }
    if (d.empty()) return;
    body_ += "<path";
    attribute("d", d);
    attribute("stroke-width", number(hatch.line_mm));
    if (hatch.kind == Hatch::Kind::dots) {
        // A dot is a dash of next to no length with round ends: it stays a shape in print.
        attribute("stroke-linecap", "round");
        attribute("stroke-dasharray", fmt::format("0.01 {}", number(hatch.step_mm - 0.01)));
    }
    body_ += "/>\n";
}

void Svg::rect(double x, double y, double w, double h, const Stroke& stroke) {
    if (const auto* hatch = std::get_if<Hatch>(&stroke.fill))
        draw_hatch({{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}}, *hatch);
    body_ += "<rect";
    attribute("x", number(x));
    attribute("y", number(y));
    attribute("width", number(std::max(0.0, w)));
    attribute("height", number(std::max(0.0, h)));
    style(stroke);
    body_ += "/>\n";
}

void Svg::circle(Point2 c, double r, const Stroke& stroke) {
    body_ += "<circle";
    attribute("cx", number(c.x));
    attribute("cy", number(c.y));
    attribute("r", number(r));
    style(stroke);
    body_ += "/>\n";
}

void Svg::path(std::string_view d, const Stroke& stroke) {
    if (d.empty()) return;
    body_ += "<path";
    attribute("d", d);
    style(stroke);
    body_ += "/>\n";
}

void Svg::text(Point2 at, std::string_view text, const TextStyle& style) {
    body_ += "<text";
    attribute("x", number(at.x));
    attribute("y", number(at.y));
    attribute("font-size", number(style.size));
    if (style.anchor != Anchor::start)
        attribute("text-anchor", style.anchor == Anchor::middle ? "middle" : "end");
    if (style.bold) attribute("font-weight", "bold");
    if (style.turn_deg != 0)
        attribute("transform", fmt::format("rotate({} {})", number(style.turn_deg), point(at)));
    body_ += style.halo ? " fill=\"#000\" stroke=\"#fff\" stroke-width=\"0.9\" "
                          "paint-order=\"stroke\">"
                        : " fill=\"#000\" stroke=\"none\">";
    body_ += escaped(text);
    body_ += "</text>\n";
}

void Svg::arrow(Point2 from, Point2 to, const Stroke& stroke, double head_mm) {
    const Point2 way = to - from;
    const double run = length(way);
    if (run < 1e-9) return;
    const Point2 u = (1 / run) * way, side{-u.y, u.x};
    const Point2 base = to - std::min(head_mm, run) * u;
    line(from, base, stroke);
    Stroke head = stroke;
    head.fill = "#000";
    head.dash = "";
    shape({{to, base + 0.35 * head_mm * side, base - 0.35 * head_mm * side}}, head);
}

void Svg::begin_group(std::string_view id, std::string_view more) {
    body_ += "<g";
    if (!id.empty()) attribute("id", fmt::format("{}-{}", frame_.id_prefix, id));
    body_ += more;
    body_ += ">\n";
}

void Svg::end_group() {
    body_ += "</g>\n";
}

void Svg::begin_clip(std::string_view id, double x, double y, double w, double h) {
    fmt::format_to(std::back_inserter(defs_),
                   "<clipPath id=\"{0}-{1}\"><rect x=\"{2}\" y=\"{3}\" width=\"{4}\" "
                   "height=\"{5}\"/></clipPath>\n",
                   frame_.id_prefix, id, number(x), number(y), number(w), number(h));
    body_ += fmt::format("<g clip-path=\"url(#{}-{})\">\n", frame_.id_prefix, id);
}

std::string hatch_lines(const std::vector<std::vector<Point2>>& rings, const Hatch& hatch) {
    const double turn = hatch.angle_deg * std::numbers::pi / 180;
    const Point2 u{std::cos(turn), std::sin(turn)}, across{-u.y, u.x};
    std::vector<std::vector<Point2>> level;  // turned so that the hatch lies level
    double top = 1e300, bottom = -1e300;
    for (const auto& ring : rings) {
        auto& turned = level.emplace_back();
        for (const Point2 p : ring) {
            turned.push_back({dot(p, u), dot(p, across)});
            top = std::min(top, turned.back().y);
            bottom = std::max(bottom, turned.back().y);
        }
    }
    const bool dots = hatch.kind == Hatch::Kind::dots;
    std::string d;
    for (double y = hatch.step_mm * std::ceil(top / hatch.step_mm); y < bottom;
         y += hatch.step_mm) {
        const std::vector<double> ends = crossings(level, y);
        for (std::size_t i = 0; i + 1 < ends.size(); i += 2) {
            double from = ends[i], to = ends[i + 1];
            if (dots) {
                from = hatch.step_mm * std::ceil(from / hatch.step_mm);
                to = std::max(to, from + kLeastLine);
                if (from > ends[i + 1]) continue;
            }
            if (to - from < kLeastLine) continue;
            fmt::format_to(std::back_inserter(d), "M{}L{}", point(from * u + y * across),
                           point(to * u + y * across));
        }
    }
    return d;
}

std::string Svg::finish(double height_mm) const {
    std::string out;
    if (!frame_.in_page)
        out +=
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!-- keyhour light sheet "
            "-->\n";
    fmt::format_to(std::back_inserter(out),
                   "<svg xmlns=\"http://www.w3.org/2000/svg\" id=\"{0}\" viewBox=\"0 0 {1} {2}\"",
                   frame_.id_prefix, number(frame_.width_mm), number(height_mm));
    if (!frame_.in_page)
        fmt::format_to(std::back_inserter(out), " width=\"{}mm\" height=\"{}mm\"",
                       number(frame_.width_mm), number(height_mm));
    fmt::format_to(std::back_inserter(out),
                   " role=\"img\" aria-labelledby=\"{0}-title {0}-desc\" font-family=\"{1}\" "
                   "fill=\"none\" stroke=\"#000\" stroke-width=\"0.25\" "
                   "stroke-linejoin=\"round\">\n<title id=\"{0}-title\">{2}</title>\n"
                   "<desc id=\"{0}-desc\">{3}</desc>\n<defs>\n{4}</defs>\n",
                   frame_.id_prefix, kFace, escaped(title_), escaped(description_), defs_);
    fmt::format_to(std::back_inserter(out),
                   "<rect width=\"{}\" height=\"{}\" fill=\"#fff\" stroke=\"none\"/>\n",
                   number(frame_.width_mm), number(height_mm));
    out += body_;
    out += "</svg>\n";
    return out;
}

}  // namespace keyhour::draw
