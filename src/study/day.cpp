#include "keyhour/study/day.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <span>

#include "keyhour/site/dates.hpp"
#include "keyhour/site/outlook.hpp"

namespace keyhour::study {
namespace {

using EventKind = DayEventKind;

constexpr std::array kNames{"astronomical_dawn", "nautical_dawn", "civil_dawn",       "rise",
                            "first_sun",         "transit",       "last_sun",         "set",
                            "civil_dusk",        "nautical_dusk", "astronomical_dusk"};

struct CrossingKinds {
    Altitude altitude;
    EventKind upward, downward;
};
constexpr std::array kCrossings{
    CrossingKinds{sun::astronomical_altitude, EventKind::astronomical_dawn,
                  EventKind::astronomical_dusk},
    CrossingKinds{sun::nautical_altitude, EventKind::nautical_dawn, EventKind::nautical_dusk},
    CrossingKinds{sun::civil_altitude, EventKind::civil_dawn, EventKind::civil_dusk},
    CrossingKinds{sun::rise_altitude, EventKind::rise, EventKind::set},
};

// One date's work: the place, the track, and the instants between which the date lies.
class DayStudy {
public:
    DayStudy(const site::Site& site, const sun::Track& track, site::LocalDate date)
        : site_{site},
          track_{track},
          place_{site.observer, site.weather},
          date_{date},
          from_{site.zone.start_of(date)},
          to_{site.zone.start_of(site::next_day(date))} {}

    Day run(const LateLightBand& band) {
        day_.date = date_;
        day_.exists = from_ < to_;
        if (!day_.exists) return std::move(day_);
        for (const CrossingKinds& c : kCrossings)
            add_crossings(c);
        add_transits();
        add_horizon(band);
        std::stable_sort(day_.events.begin(), day_.events.end(),
                         [](const DayEvent& a, const DayEvent& b) { return a.at < b.at; });
        std::sort(day_.absent.begin(), day_.absent.end(),
                  [](const AbsentEvent& a, const AbsentEvent& b) { return a.kind < b.kind; });
        return std::move(day_);
    }

private:
    static constexpr std::size_t most_crossings = 8;

    struct Found {
        std::array<sun::Crossing, most_crossings> all;
        sun::Crossings how;
        [[nodiscard]] std::span<const sun::Crossing> at() const {
            return std::span{all}.first(how.count);
        }
    };

    Found crossings(Altitude altitude) const {
        Found f;
        f.how = sun::crossings(track_, place_, altitude, from_, to_, f.all);
        return f;
    }

    void add(EventKind kind, Instant at) {
        const auto h = track_.horizontal(place_, at);
        day_.events.push_back({kind, at, h.azimuth, h.true_altitude});
    }

    void add_crossings(const CrossingKinds& c) {
        const Found found = crossings(c.altitude);
        bool up = false, down = false;
        for (const sun::Crossing& crossing : found.at()) {
            add(crossing.upward ? c.upward : c.downward, crossing.at);
            (crossing.upward ? up : down) = true;
        }
        if (!up) day_.absent.push_back({c.upward, found.how.side});
        if (!down) day_.absent.push_back({c.downward, found.how.side});
        if (c.upward == EventKind::rise) note_state_and_length(found);
    }

    void note_state_and_length(const Found& rise_and_set) {
        if (rise_and_set.at().empty()) {
            const bool up = rise_and_set.how.side == sun::Side::always_above;
            day_.state = up ? DayState::sun_always_up : DayState::sun_always_down;
            day_.length = up ? to_ - from_ : Seconds{};
            return;
        }
        bool is_up = !rise_and_set.at().front().upward;
        Instant since = from_;
        for (const sun::Crossing& crossing : rise_and_set.at()) {
            if (is_up) day_.length += crossing.at - since;
            since = crossing.at;
            is_up = crossing.upward;
        }
        if (is_up) day_.length += to_ - since;
    }

    void add_transits() {
        std::array<Instant, 4> at;
        const std::size_t count = sun::transits(track_, place_, from_, to_, at);
        for (const Instant t : std::span{at}.first(count))
            add(EventKind::transit, t);
        if (count == 0) day_.absent.push_back({EventKind::transit, sun::Side::crosses});
    }

    void add_horizon(const LateLightBand& band) {
        const auto [first, last, began_above, above] = sun_over_horizon(site_, track_, from_, to_);
        const bool crosses = first || last;
        const sun::Side side = crosses       ? sun::Side::crosses
                               : began_above ? sun::Side::always_above
                                             : sun::Side::always_below;
        if (first)
            add(EventKind::first_sun, *first);
        else
            day_.absent.push_back({EventKind::first_sun, side});
        if (last)
            add(EventKind::last_sun, *last);
        else
            day_.absent.push_back({EventKind::last_sun, side});
        day_.late_light = late_light(track_, place_, from_, to_, band);
        split_by_sun(day_.late_light, direct_light(above));
    }

    std::vector<DirectSpan> direct_light(const std::vector<Span>& above) const {
        const std::string by = site::far_words(site_.horizon, site_.horizon_source);
        std::vector<DirectSpan> out;
        for (const Span& s : above)
            out.push_back({s, by, by, s.runs_at_start, s.runs_at_end});
        return out;
    }

    const site::Site& site_;
    const sun::Track& track_;
    sun::Place place_;
    site::LocalDate date_;
    Instant from_, to_;
    Day day_;
};

}  // namespace

const char* name(DayEventKind kind) noexcept {
    return kNames[static_cast<std::size_t>(kind)];
}

std::string in_words(DayEventKind kind) {
    std::string words = name(kind);
    std::replace(words.begin(), words.end(), '_', ' ');
    return words;
}

SunOverHorizon sun_over_horizon(const site::Site& site, const sun::Track& track, Instant from,
                                Instant to) {
    // The skyline has corners, so its crossings are bracketed on samples and halved.
    constexpr Seconds step{120};
    const sun::Place place{site.observer, site.weather};
    const auto is_above_at = [&](Instant t) {
        const auto h = track.horizontal(place, t);
        return h.apparent_altitude > site.horizon.altitude_at(h.azimuth);
    };
    const auto crossing = [&](Instant low, Instant high, bool upward) {
        while ((high - low).count() > 0.01) {
            const Instant middle = low + 0.5 * (high - low);
            (is_above_at(middle) == upward ? high : low) = middle;
        }
        return high;
    };
    SunOverHorizon out;
    bool was_above = out.is_above_at_start = is_above_at(from);
    if (was_above) out.above.push_back({from, to, true, true});
    for (Instant t = from; t < to;) {
        const Instant next = std::min(t + step, to);
        const bool is_above = is_above_at(next);
        if (is_above != was_above) {
            const Instant at = crossing(t, next, is_above);
            if (is_above && !out.first) out.first = at;
            if (!is_above) out.last = at;
            if (is_above)
                out.above.push_back({at, to, false, true});
            else
                out.above.back() = {out.above.back().from, at, out.above.back().runs_at_start,
                                    false};
        }
        was_above = is_above;
        t = next;
    }
    return out;
}

Day day(const site::Site& site, const sun::Track& track, site::LocalDate date,
        const LateLightBand& band) {
    return DayStudy{site, track, date}.run(band);
}

}  // namespace keyhour::study
