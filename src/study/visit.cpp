#include "keyhour/study/visit.hpp"

#include <GeographicLib/Geodesic.hpp>
#include <algorithm>
#include <bit>
#include <optional>

namespace keyhour::study {

namespace {

double distance_m(const site::Coordinates& a, const site::Coordinates& b) {
    double metres = 0;
    GeographicLib::Geodesic::WGS84().Inverse(a.latitude.in_degrees(), a.longitude.in_degrees(),
                                             b.latitude.in_degrees(), b.longitude.in_degrees(),
                                             metres);
    return metres;
}

/// The earliest end of a way that visits a set of rooms and finishes in one of them.
struct State {
    std::optional<Instant> end;
    Instant start;
    std::size_t before = 0;  ///< the room visited before
    std::size_t hold = 0;
};

class Search {
public:
    Search(std::span<const VisitRoom> rooms, const VisitSettings& settings)
        : rooms_{rooms}, settings_{settings}, states_(rooms.size() << rooms.size()) {
        for (const VisitRoom& a : rooms)
            for (const VisitRoom& b : rooms)
                distances_.push_back(distance_m(a.place, b.place));
        for (std::size_t room = 0; room < rooms.size(); ++room)
            try_room(bit(room), room, room, std::nullopt);
        // A set is met after all its parts: they are smaller numbers.
        for (std::size_t set = 1; set < std::size_t{1} << rooms.size(); ++set)
            for (std::size_t last = 0; last < rooms.size(); ++last)
                if (at(set, last).end) extend(set, last);
    }

    [[nodiscard]] VisitPlan plan() const {
        VisitPlan out;
        std::size_t set = 0, last = 0;
        for (std::size_t s = 1; s < std::size_t{1} << rooms_.size(); ++s)
            for (std::size_t room = 0; room < rooms_.size(); ++room)
                if (at(s, room).end && is_better(s, room, set, last)) {
                    set = s;
                    last = room;
                }
        for (std::size_t room = 0; room < rooms_.size(); ++room)
            if ((set & bit(room)) == 0) out.left_out.push_back(room);
        while (set != 0) {
            const State& state = at(set, last);
            out.stops.push_back({last, state.hold, 0, Seconds{0}, {}, state.start, *state.end, {}});
            set &= ~bit(last);
            last = state.before;
        }
        std::reverse(out.stops.begin(), out.stops.end());
        add_travel(out.stops);
        add_slack(out.stops);
        return out;
    }

private:
    static std::size_t bit(std::size_t room) { return std::size_t{1} << room; }
    [[nodiscard]] const State& at(std::size_t set, std::size_t last) const {
        return states_[set * rooms_.size() + last];
    }
    [[nodiscard]] double distance(std::size_t a, std::size_t b) const {
        return distances_[a * rooms_.size() + b];
    }
    [[nodiscard]] Seconds travel(std::size_t a, std::size_t b) const {
        return Seconds{distance(a, b) * settings_.detour / (settings_.speed_kmh / 3.6)};
    }

    [[nodiscard]] bool is_better(std::size_t set, std::size_t last, std::size_t best_set,
                                 std::size_t best_last) const {
        const int count = std::popcount(set), best = std::popcount(best_set);
        if (count != best) return count > best;
        return *at(set, last).end < *at(best_set, best_last).end;
    }

    void extend(std::size_t set, std::size_t last) {
        for (std::size_t room = 0; room < rooms_.size(); ++room)
            if ((set & bit(room)) == 0)
                try_room(set | bit(room), room, last, *at(set, last).end + travel(last, room));
    }

    /// @param arrive  none: the first room of the day, to be reached whenever it must be
    void try_room(std::size_t set, std::size_t room, std::size_t before,
                  std::optional<Instant> arrive) {
        State& state = states_[set * rooms_.size() + room];
        for (std::size_t i = 0; i < rooms_[room].holds.size(); ++i) {
            const Span& hold = rooms_[room].holds[i];
            const Instant start =
                arrive ? std::max(hold.from, *arrive + settings_.setup) : hold.from;
            const Instant end = start + settings_.work;
            if (end > hold.to || (state.end && *state.end <= end)) continue;
            state = {end, start, before, i};
        }
    }

    void add_travel(std::vector<VisitStop>& stops) const {
        for (std::size_t i = 0; i < stops.size(); ++i) {
            VisitStop& stop = stops[i];
            if (i == 0) {
                stop.arrive = stop.start - settings_.setup;
                continue;
            }
            stop.distance_m = distance(stops[i - 1].room, stop.room);
            stop.travel = travel(stops[i - 1].room, stop.room);
            stop.arrive = stops[i - 1].end + stop.travel;
        }
    }

    /// From the last stop back: how late may each start?
    void add_slack(std::vector<VisitStop>& stops) const {
        std::optional<Instant> latest_end;
        for (auto stop = stops.rbegin(); stop != stops.rend(); ++stop) {
            const Instant of_hold = rooms_[stop->room].holds[stop->hold].to;
            const Instant end = latest_end ? std::min(of_hold, *latest_end) : of_hold;
            stop->slack = end - stop->end;
            latest_end = end - settings_.work - settings_.setup - stop->travel;
        }
    }

    std::span<const VisitRoom> rooms_;
    const VisitSettings& settings_;
    std::vector<double> distances_;
    std::vector<State> states_;
};

}  // namespace

VisitPlan plan_visit(std::span<const VisitRoom> rooms, const VisitSettings& settings) {
    return Search{rooms, settings}.plan();
}

}  // namespace keyhour::study
