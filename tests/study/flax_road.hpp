#pragma once
/// @file
/// The example with four windows, two marks and an L of a floor, and the runs of a condition found
/// by plain stepping, with which the searches are compared.

#include <date/date.h>

#include <algorithm>
#include <stdexcept>
#include <vector>

#include "keyhour/study/room_study.hpp"
#include "read/location_file.hpp"

namespace keyhour::study {

inline site::Location flax_road() {
    auto read = read::read_location(KEYHOUR_LOCATIONS "/flax-road.toml");
    if (!read) throw std::runtime_error{"flax-road.toml is not sound"};
    return *std::move(read);
}

/// A location ready for questions about some dates.
struct OnDates {
    site::Location location;
    site::LocalDate first, last;
    RoomStudy study;

    OnDates(site::Location l, site::LocalDate from, site::LocalDate to)
        : location{std::move(l)},
          first{from},
          last{to},
          study{location, SharedTrack::make(start_of(from) - Seconds{2 * 86400},
                                            start_of(to) + Seconds{4 * 86400})} {}
    OnDates(const OnDates&) = delete;
    OnDates& operator=(const OnDates&) = delete;

    [[nodiscard]] Instant start_of(site::LocalDate d) const {
        return location.site.zone.start_of(d);
    }
    [[nodiscard]] Instant start_of(site::LocalDate d, int days_later) const {
        return start_of(site::LocalDate{date::sys_days{d} + date::days{days_later}});
    }
};

struct Run {
    Instant from, to;
};

/// Runs of `holds` (Instant -> bool) on from, from + step, ...; each bound is the first step at
/// which the condition has changed.
template <class Holds>
std::vector<Run> runs(Instant from, Instant to, Seconds step, const Holds& holds) {
    std::vector<Run> out;
    bool running = false;
    for (Instant t = from; t < to; t = t + step) {
        const bool now = holds(t);
        if (now && !running) out.push_back({t, t});
        if (now) out.back().to = std::min(t + step, to);
        running = now;
    }
    return out;
}

}  // namespace keyhour::study
