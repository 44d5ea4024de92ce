#include "keyhour/study/room_sun.hpp"

#include <algorithm>
#include <numbers>
#include <utility>

#include "keyhour/study/lock.hpp"
#include "keyhour/study/sun_in_room.hpp"
#include "region_spans.hpp"

namespace keyhour::study {
namespace {

/// The regions of one window.
struct Found {
    std::size_t window, in;
    std::vector<std::pair<std::size_t, std::size_t>> marks;  ///< mark, region
};

std::vector<Found> regions_of(const RoomStudy& study, bool marks, RegionSpans& regions) {
    const room::Room& room = study.room();
    std::vector<Found> found;
    for (std::size_t w = 0; w < room.windows.size(); ++w) {
        if (room.windows[w].cover == room::Cover::blackout) continue;
        Found f{w, regions.add(room::sunlit_region(study.scene(), w, regions.bounds())), {}};
        // Through a sheer no direct sun gets on.
        for (std::size_t mark = 0;
             marks && lets_sun_in(room.windows[w]) && mark < room.marks.size(); ++mark) {
            room::RegionRequest request;
            request.mark = mark;
            request.window = w;
            request.coverage = least_share_on_mark;
            request.bounds = regions.bounds();
            const auto rings = room::covered_region(study.scene(), request);
            if (!rings.empty()) f.marks.emplace_back(mark, regions.add(rings));
        }
        found.push_back(std::move(f));
    }
    return found;
}

OpeningSun sun_of(const RoomStudy& study, const Found& f, bool every, const RegionSpans& regions) {
    OpeningSun sun;
    sun.window = f.window;
    const auto comes_in = [&](const Moment& m, const room::PlanTurn& turn) {
        return sun_in_margin(study, f.window, m, turn);
    };
    if (every) {
        BearingSpans all = regions.spans(f.in, comes_in);
        sun.stated = std::move(all.stated);
        sun.every = std::move(all.every);
        sun.some = std::move(all.some);
    } else {
        sun.stated = regions.stated(f.in, comes_in);
        if (lets_sun_in(study.room().windows[f.window])) sun.some = regions.some(f.in, comes_in);
    }
    sun.on_mark.resize(study.room().marks.size());
    for (const auto& [mark, region] : f.marks) {
        const auto lights = [&, mark = mark](const Moment& m, const room::PlanTurn& turn) {
            if (m.above_skyline_deg <= 0) return m.above_skyline_deg;
            const room::Point3 toward = turn.to_plan(m.toward);
            return study.scene().coverage(mark, f.window, toward) - least_share_on_mark;
        };
        sun.on_mark[mark] = regions.some(region, lights);
    }
    return sun;
}

}  // namespace

RoomSun::RoomSun(const RoomStudy& study, Instant from, Instant to, const AskedOfSun& asked)
    : study_{&study}, from_{from}, to_{to} {
    RegionSpans regions{study, from, to, 0, std::numbers::pi / 2};
    const auto found = regions_of(study, asked.marks, regions);
    regions.cut();
    std::vector<OpeningSun> windows;
    for (const Found& f : found)
        windows.push_back(sun_of(study, f, asked.every, regions));
    windows_ = std::make_shared<const std::vector<OpeningSun>>(std::move(windows));
}

const OpeningSun* RoomSun::of(std::size_t window) const noexcept {
    for (const OpeningSun& sun : *windows_)
        if (sun.window == window) return &sun;
    return nullptr;
}

std::vector<Span> within(const std::vector<Span>& spans, Instant from, Instant to) {
    // Ends are found no closer: two windows that lose the sun at one edge differ by less.
    constexpr Seconds found_to{0.05};
    std::vector<Span> out;
    auto s = std::lower_bound(spans.begin(), spans.end(), from + found_to,
                              [](const Span& a, Instant t) { return a.to <= t; });
    for (; s != spans.end() && s->from < to - found_to; ++s)
        out.push_back({std::max(s->from, from), std::min(s->to, to),
                       s->runs_at_start || s->from <= from, s->runs_at_end || s->to >= to});
    return out;
}

std::vector<Span> gaps(const std::vector<Span>& spans, Instant from, Instant to) {
    std::vector<Span> out;
    Instant free_from = from;
    for (const Span& s : within(spans, from, to)) {
        if (free_from < s.from) out.push_back({free_from, s.from, free_from == from, false});
        free_from = s.to;
    }
    if (free_from < to) out.push_back({free_from, to, free_from == from, true});
    return out;
}

OpeningSun within(const OpeningSun& sun, Instant from, Instant to) {
    OpeningSun out;
    out.window = sun.window;
    out.stated = within(sun.stated, from, to);
    out.every = within(sun.every, from, to);
    out.some = within(sun.some, from, to);
    for (const auto& spans : sun.on_mark)
        out.on_mark.push_back(within(spans, from, to));
    return out;
}

}  // namespace keyhour::study
