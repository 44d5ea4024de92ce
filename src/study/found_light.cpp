#include "keyhour/study/found_light.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/light/colour_temperature.hpp"

namespace keyhour::study {
namespace {

light::Band scaled(const light::Band& b, double k) {
    return {k * b.low, k * b.likely, k * b.high};
}

light::Band sum(const light::Band& a, const light::Band& b, double more) {
    return {a.low + b.low + more, a.likely + b.likely + more, a.high + b.high + more};
}

std::optional<light::Band> stops_between(const light::Band& key, const light::Band& fill) {
    if (key.low <= 0 || fill.low <= 0) return std::nullopt;
    const double low = std::log2(key.low / fill.low), likely = std::log2(key.likely / fill.likely),
                 high = std::log2(key.high / fill.high);
    return light::Band{std::min({low, likely, high}), likely, std::max({low, likely, high})};
}

void scale(MarkLight& m, double glass) {
    for (WindowLight& w : m.windows)
        w = {w.coverage,       glass * w.beam_lx,   glass * w.direct_lx,
             glass * w.sky_lx, glass * w.ground_lx, glass * w.cloth_lx};
    for (Entering& e : m.entering)
        e = {glass * e.sun_lm, glass * e.sky_lm, glass * e.ground_lm, glass * e.cloth_lm,
             e.landing};
    m.key_lx = scaled(m.key_lx, glass);
    m.other_windows_lx = scaled(m.other_windows_lx, glass);
}

/// Light of one colour temperature with the forges'; nothing where it has none.
std::optional<double> mixed(const std::optional<double>& kelvin, double lx,
                            const std::vector<ForgeLight>& forges) {
    if (!kelvin) return std::nullopt;
    light::Tristimulus all = lx * light::black_body_colour(*kelvin);
    for (const ForgeLight& f : forges)
        all = all + (f.mark_lx + f.given_back_lx) * light::black_body_colour(f.kelvin);
    return light::colour_temperature(light::chromaticity(all)).kelvin;
}

}  // namespace

FoundInRoom::FoundInRoom(const site::Location& location) : correction_{meter_correction(location)} {
    for (std::size_t mark = 0; mark < location.room->marks.size(); ++mark)
        forges_.push_back(forge_light(*location.room, location.found.forges, mark));
}

void FoundInRoom::apply(MarkLight& m) const {
    scale(m, correction_.glass);
    m.given_back_lx = scaled(m.given_back_lx, correction_.glass * correction_.fill);
    m.fill_lx = sum(m.given_back_lx, m.other_windows_lx, 0);
}

void FoundInRoom::apply(std::size_t mark, MarkLight& m) const {
    const std::vector<ForgeLight>& forges = forges_[mark];
    apply(m);
    const double own_lx = m.given_back_lx.likely + m.other_windows_lx.likely;
    if (!forges.empty()) {
        m.fill_kelvin = mixed(m.fill_kelvin, own_lx, forges);
        m.mix_kelvin = mixed(m.mix_kelvin, own_lx + m.key_lx.likely, forges);
    }
    m.given_back_lx = sum(m.given_back_lx, {}, given_back_lx(forges));
    m.fill_lx = sum(m.given_back_lx, m.other_windows_lx, at_mark_lx(forges));
    m.key_to_fill_stops = stops_between(m.key_lx, m.fill_lx);
}

double FoundInRoom::forge_lx(std::size_t mark) const {
    return at_mark_lx(forges_[mark]) + given_back_lx(forges_[mark]);
}

}  // namespace keyhour::study
