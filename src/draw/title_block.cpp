#include "title_block.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "labels.hpp"

namespace keyhour::draw {
namespace {

constexpr double kMargin = 2.5, kLine = 4.4, kSwatchWidth = 9, kSwatchHeight = 3.4;

/// Entries side by side as far as they fit. @return the lower edge
double draw_key(Svg& svg, double top, const std::vector<KeyEntry>& key,
                double swatch = kSwatchWidth) {
    double x = kMargin, y = top;
    const double right = svg.width() - kMargin;
    for (const KeyEntry& entry : key) {
        const auto lines = wrapped(entry.meaning, letters::small, right - kMargin - swatch - 2);
        double w = 0;
        for (const std::string& line : lines)
            w = std::max(w, text_width(line, letters::small));
        if (x > kMargin && x + swatch + 1.5 + w > right) {
            x = kMargin;
            y += kLine + 0.6;
        }
        entry.swatch(svg, x, y, swatch, kSwatchHeight);
        for (std::size_t i = 0; i < lines.size(); ++i) {
            if (i > 0) y += kLine - 0.8;
            svg.text({x + swatch + 1.5, y + 2.6}, lines[i], {letters::small});
        }
        x += swatch + 1.5 + w + 4;
    }
    return key.empty() ? top : y + kSwatchHeight + 1.5;
}

double draw_numbered(Svg& svg, double top, const std::vector<std::string>& numbered) {
    std::vector<KeyEntry> key;
    for (std::size_t i = 0; i < numbered.size(); ++i)
        key.push_back({[i](Svg& to, double x, double y, double w, double h) {
                           draw_number(to, {x + w / 2, y + h / 2}, i + 1);
                       },
                       numbered[i]});
    return draw_key(svg, top, key, 2 * number_ring);
}

/// Of which place, what drawing: a page says both itself. @return the base line of what follows
double draw_name(Svg& svg, double y, const TitleBlock& block) {
    const double wide = svg.width() - 2 * kMargin;
    y += letters::title + 0.8;
    for (const std::string& line : wrapped(block.place, letters::title, wide, true)) {
        svg.text({kMargin, y}, line, {letters::title, Anchor::start, true});
        y += letters::title;
    }
    for (const std::string& line : wrapped(block.drawing, letters::usual, wide)) {
        svg.text({kMargin, y}, line, {letters::usual, Anchor::start});
        y += kLine;
    }
    return y;
}

}  // namespace

double draw_title_block(Svg& svg, double top, const TitleBlock& block) {
    const double wide = svg.width() - 2 * kMargin;
    double y = top + 3;
    y = draw_key(svg, y, block.key);
    y = draw_numbered(svg, y, block.numbered);
    const bool is_keyed = !block.key.empty() || !block.numbered.empty();
    y += is_keyed ? 1 : 0;
    if (is_keyed) svg.line({kMargin, y}, {svg.width() - kMargin, y}, {pen::thin});
    y = svg.in_page() ? y + letters::small + 0.8 : draw_name(svg, y, block);
    for (const std::string& note : block.notes)
        for (const std::string& line : wrapped(note, letters::small, wide)) {
            svg.text({kMargin, y}, line, {letters::small});
            y += kLine - 0.6;
        }
    const double bottom = y;
    svg.rect(0.5, top, svg.width() - 1, bottom - top, {pen::opening});
    return bottom + 0.5;
}

CertaintyFills certainty_fills() {
    return {{pen::thin, "", "#000"},
            {pen::thin, "", Hatch{-45, 1.1, 0.3}},
            {pen::thin, "0.8 0.5", "#fff"}};
}

std::vector<KeyEntry> certainty_key(const CertaintyFills& fills, double within_deg) {
    const auto swatch = [](const Stroke& stroke) {
        return [stroke](Svg& svg, double x, double y, double w, double h) {
            svg.rect(x, y, w, h, stroke);
        };
    };
    return {{swatch(fills.sure), fmt::format("at any bearing within {} degree{}",
                                             number(within_deg), within_deg == 1 ? "" : "s")},
            {swatch(fills.stated), "at the bearing stated"},
            {swatch(fills.possible), "at some bearing within the doubt"}};
}

}  // namespace keyhour::draw
