#include "tell/patch_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "tell/cautions.hpp"
#include "tell/light_lines.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"

namespace keyhour::tell {
namespace {

std::string kelvin_text(const std::optional<double>& kelvin) {
    return kelvin ? fmt::format(" {:.0f} K", std::round(*kelvin / 100) * 100) : std::string{};
}

/// What each window gives a mark, the brightest first.
std::string by_window(const study::MarkLight& light, const room::Room& room) {
    std::vector<std::size_t> order;
    for (std::size_t w = 0; w < room.windows.size(); ++w)
        if (light.windows[w].total_lx() >= 1) order.push_back(w);
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return light.windows[a].total_lx() > light.windows[b].total_lx();
    });
    std::string text;
    for (const std::size_t w : order) {
        const study::WindowLight& l = light.windows[w];
        text += text.empty() ? "" : "; ";
        text += room.windows[w].name;
        if (l.cloth_lx > 0)
            text += " by its sheer " + words::level(l.cloth_lx);
        else
            text += (l.direct_lx > 0 ? " sun " + words::level(l.direct_lx) + "," : std::string{}) +
                    " sky and ground " + words::level(l.sky_lx + l.ground_lx);
    }
    return text.empty() ? "no window gives it a lux" : text;
}

class PatchPage {
public:
    PatchPage(const PatchAnswer& answer, const PatchQuestion& q)
        : a_{answer},
          instant_{answer.instant},
          q_{q},
          room_{*q.location.room},
          zone_{q.location.site.zone} {}

    Paragraphs block() {
        say(fmt::format("{}: sun towards {}, {:.1f} true, {:.1f} high{}", when(),
                        site::compass_letters(instant_.sun.azimuth),
                        instant_.sun.azimuth.from_north.in_degrees(),
                        instant_.sun.apparent_altitude.above_horizon.in_degrees(),
                        is_dark() ? "; NO DIRECT SUN in the room" : ""));
        for (std::size_t i = 0; i < instant_.patches.size(); ++i)
            patch(i);
        for (std::size_t mark = 0; mark < room_.marks.size(); ++mark)
            this->mark(mark);
        if (!a_.light) return std::move(out_);
        for (const study::BeamInHaze& beam : a_.light->beams)
            if (has(Detail::haze) || beam.sun_in_lens)
                say(fmt::format("in haze, {}, {}: {}", room_.windows[beam.window].name,
                                room_.cameras[beam.camera].name, haze_text(beam, q_.recce.units)));
        return std::move(out_);
    }

    std::string row() const {
        std::string text = fmt::format("{} sun {} {:.0f}, {:.0f} high: ", when(),
                                       site::compass_letters(instant_.sun.azimuth),
                                       instant_.sun.azimuth.from_north.in_degrees(),
                                       instant_.sun.apparent_altitude.above_horizon.in_degrees());
        if (is_dark()) return text + "none in the room";
        const std::size_t none = room_.windows.size();
        std::size_t window = none;
        for (const study::WindowPatch& p : instant_.patches) {
            if (p.window != window)
                text += (window == none ? "" : "; ") + room_.windows[p.window].name + " on ";
            else
                text += ", ";
            window = p.window;
            text += room::words(p.patch.surface, room_) + ' ' +
                    words::area(p.patch.area_m2, q_.recce.units);
        }
        for (const study::MarkCoverage& c : instant_.coverages)
            text += fmt::format("{}{} {:.0f} % lit", text.back() == ' ' ? "" : "; ",
                                room_.marks[c.mark].name, 100 * c.fraction);
        return text;
    }

private:
    void say(std::string text, std::size_t indent = 0) {
        if (!text.empty()) out_.push_back({std::move(text), indent, indent + 2});
    }
    bool has(Detail d) const { return q_.show.has(d); }
    bool is_dark() const { return instant_.patches.empty() && instant_.coverages.empty(); }

    /// "14:30", in a range behind its date, with its offset where clocks change.
    std::string when() const {
        const site::LocalDate date = site::local_date(instant_.at, zone_);
        std::string text = q_.dates.is_range ? words::row_date(date) + ' ' : std::string{};
        text += site::whole_minutes(instant_.at, zone_);
        const std::string offset = words::offset_at(instant_.at, zone_);
        if (offset != words::offset_at(zone_.start_of(q_.dates.first) + Seconds{43200}, zone_))
            text += ' ' + offset;
        return text;
    }

    /// As many decimals of a metre as the edge is known to.
    int decimals(std::size_t i) const {
        constexpr double decimetre_m = 0.1;
        const bool loose = a_.bands_m && !((*a_.bands_m)[i] && *(*a_.bands_m)[i] < decimetre_m);
        return loose ? 1 : 2;
    }

    std::string place(const room::Point3& p, bool with_height, int decimals) const {
        const auto one = [&](const char* axis, double m) {
            return fmt::format("{} {}", axis, words::length(m, q_.recce.units, decimals));
        };
        std::string text = one("x", p.x) + ' ' + one("y", p.y);
        return with_height ? text + ' ' + one("z", p.z) : text;
    }

    void patch(std::size_t i) {
        const study::WindowPatch& p = instant_.patches[i];
        std::string text =
            fmt::format("{} through {}: {}", room::words(p.patch.surface, room_),
                        room_.windows[p.window].name, words::area(p.patch.area_m2, q_.recce.units));
        // On an object it has several sides, and no single middle.
        if (p.patch.surface.kind != room::Surface::Kind::object)
            text +=
                ", middle " + place(p.patch.centroid,
                                    p.patch.surface.kind == room::Surface::Kind::wall, decimals(i));
        if (a_.bands_m)
            text += (*a_.bands_m)[i]
                        ? ", edge within " + words::small_length(*(*a_.bands_m)[i], q_.recce.units,
                                                                 words::Rounding::up)
                        : std::string{"; may not be there at all"};
        if (a_.light && a_.light->patches[i])
            text += "; " + words::level(a_.light->patches[i]->patch_lx);
        say(text);
        if (has(Detail::levels) && a_.light && a_.light->patches[i]) {
            const double stops = a_.light->patches[i]->stops();
            say(words::stops_over_fill(stops, stops) + " over an unlit wall", 2);
        }
        if (has(Detail::doubt))
            say("soft edge " + words::small_length(p.patch.edge_width_m, q_.recce.units), 2);
        if (has(Detail::corners)) corners(p.patch);
    }

    /// An outline to chalk on the floor; on a wall with the height.
    void corners(const room::Patch& patch) {
        if (patch.surface.kind == room::Surface::Kind::object) return;
        const bool wall = patch.surface.kind == room::Surface::Kind::wall;
        for (const auto& ring : patch.outlines) {
            std::string text = "corners ";
            for (std::size_t i = 0; i < ring.size(); ++i)
                text += (i == 0 ? "" : ", ") + corner(ring[i], wall);
            say(text, 2);
        }
    }

    std::string corner(const room::Point3& p, bool with_height) const {
        if (q_.recce.units == site::Units::feet) return place(p, with_height, 2);
        // Nothing has no sign.
        const auto rounded = [](double m) { return std::round(100 * m) / 100 + 0.0; };
        std::string text = fmt::format("{:.2f} {:.2f}", rounded(p.x), rounded(p.y));
        return with_height ? text + fmt::format(" {:.2f}", rounded(p.z)) : text;
    }

    /// What the sun and the windows give it.
    void mark(std::size_t mark) {
        std::string lit;
        for (const study::MarkCoverage& c : instant_.coverages)
            if (c.mark == mark)
                lit += fmt::format("{}{:.0f} % lit through {}", lit.empty() ? "" : ", ",
                                   100 * c.fraction, room_.windows[c.window].name);
        if (lit.empty()) lit = "not lit";
        if (!a_.light) return say(fmt::format("mark {}: {}", room_.marks[mark].name, lit));
        const study::LitMark& at = a_.light->marks[mark];
        const study::MarkLight& m = at.clear;
        std::string text = fmt::format("mark {}: {}; {} through {}", room_.marks[mark].name, lit,
                                       words::level(m.key_lx), room_.windows[at.key_window].name);
        if (m.key_to_fill_stops) {
            const double ratio = std::exp2(m.key_to_fill_stops->likely);
            text += ", key:fill " + words::ratio(ratio, ratio);
        }
        say(text);
        if (!has(Detail::levels)) return;
        say(fmt::format("air alone: {}{}; fill {}{}", words::spread(m.key_lx),
                        kelvin_text(m.key_kelvin), words::fill_level(m.fill_lx.likely),
                        kelvin_text(m.fill_kelvin)) +
                (m.key_to_fill_stops
                     ? ", key to fill " + words::stops_over_fill(m.key_to_fill_stops->likely,
                                                                 m.key_to_fill_stops->likely)
                     : std::string{}),
            2);
        say(by_window(m, room_), 2);
        say(fmt::format("through the same window with mean cloud {}, overcast {}",
                        words::level(at.mean_cloud_lx), words::level(at.overcast_lx)),
            2);
    }

    const PatchAnswer& a_;
    const study::PatchInstant& instant_;
    const PatchQuestion& q_;
    const room::Room& room_;
    const site::Zone& zone_;
    Paragraphs out_;
};

}  // namespace

Paragraphs patch_block(const PatchAnswer& answer, const PatchQuestion& q) {
    return PatchPage{answer, q}.block();
}

Paragraph patch_row(const PatchAnswer& answer, const PatchQuestion& q) {
    return {PatchPage{answer, q}.row(), 0, 6};
}

Paragraphs patch_foot(const PatchQuestion& q, std::size_t wall) {
    const bool feet = q.recce.units == site::Units::feet;
    Paragraphs out{{wall_in_brief(*q.location.room, wall)}};
    if (q.show.has(Detail::corners))
        out.push_back({fmt::format("x, y: {} of the plan; z: above the floor",
                                   feet ? "feet and inches" : "metres"),
                       0, 0});
    if (q.show.has(Detail::doubt))
        out.push_back(
            {"soft edge: square to the ray; edge within: in 9 of 10 cases, the room with "
             "every figure moved within its doubt (check lists them)",
             0, 0});
    if (q.show.has(Detail::levels))
        out.push_back(
            {"levels: clear sky, the brightest window as the key; air alone: one class "
             "clearer to one hazier; fill: what the room gives back on average, good to "
             "a factor 2",
             0, 0});
    if (q.show.has(Detail::haze))
        out.push_back({fmt::format("{}. Cloth and gel near lamps and in the sun of a lens grow "
                                   "hot. Local codes and licensed practice decide.",
                                   haze_caution),
                       0, 0});
    return out;
}

}  // namespace keyhour::tell
