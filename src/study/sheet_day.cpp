#include "keyhour/study/sheet_day.hpp"

#include <algorithm>

#include "keyhour/study/mark_light.hpp"
#include "keyhour/study/patch_doubt.hpp"

namespace keyhour::study {
namespace {

/// The window that gives a mark most light; none of a room without windows.
std::size_t brightest(const MarkLight& light) {
    const auto most = std::ranges::max_element(light.windows, {}, &WindowLight::total_lx);
    return static_cast<std::size_t>(most - light.windows.begin());
}

MarkReading reading(const RoomLight& light, std::size_t mark, const Moment& m) {
    MarkReading out;
    MarkLight at = light.at(mark, 0, m);
    out.window = brightest(at);
    if (out.window != 0) at = light.at(mark, out.window, m);
    out.coverage = at.windows[out.window].coverage;
    out.level_lx = at.metered_lx();
    return out;
}

std::vector<SheetStep> steps_of(const RoomStudy& room, Instant from, Instant to) {
    std::vector<SheetStep> out;
    const RoomLight light{room};
    const PatchEnsemble rooms{room};
    for (int i = 0; from + i * sheet_step < to; ++i) {
        const Instant t = from + i * sheet_step;
        if (!sun_is_up(room, t)) continue;
        SheetStep step{patches_at(room, t), {}, {}};
        step.edge_bands_m = rooms.edge_bands_m(step.now);
        const Moment m = room.path().at(t);
        for (std::size_t mark = 0; mark < room.room().marks.size(); ++mark)
            step.marks.push_back(reading(light, mark, m));
        out.push_back(std::move(step));
    }
    return out;
}

std::vector<std::vector<SpotEnsemble::Ends>> ends_of_spots(
    const site::Location& location, const std::shared_ptr<const SharedTrack>& shared,
    const DayStrip& strip) {
    std::vector<std::vector<SpotEnsemble::Ends>> out;
    for (std::size_t i = 0; i < strip.spots.size(); ++i) {
        out.emplace_back();
        if (strip.spots[i].direct.empty()) continue;
        const SpotEnsemble members{location, i, shared};
        for (const DirectSpan& direct : strip.spots[i].direct)
            out.back().push_back(members.ends(direct, strip.date));
    }
    return out;
}

std::optional<Instant> first_wanted(const DayStrip& strip, bool has_room) {
    if (const KeyInterval* key = best_key(strip)) return key->span->from;
    if (has_room) return std::nullopt;  // a room is not rigged for the light outside
    for (const SpotDay& spot : strip.spots)
        for (const auto* starts : {&spot.for_wanted, &spot.for_late_light})
            if (const SafeStart* start = longest(*starts)) return start->light.from;
    return std::nullopt;
}

}  // namespace

const KeyInterval* best_key(const DayStrip& strip) noexcept {
    const auto found =
        std::ranges::find_if(strip.keys, [](const KeyInterval& k) { return k.span.has_value(); });
    return found == strip.keys.end() ? nullptr : &*found;
}

const HoldDoubt& doubt_of(const SheetDay& day, const KeyInterval& key) noexcept {
    return day.doubts[static_cast<std::size_t>(&key - day.strip.keys.data())];
}

SheetDay sheet_day(const site::Location& location, const RoomStudy* room,
                   const std::shared_ptr<const SharedTrack>& shared, site::LocalDate date) {
    SheetDay out;
    out.strip = day_strip(location, room, shared, date);
    out.spot_ends = ends_of_spots(location, shared, out.strip);
    out.ready_by = first_wanted(out.strip, room != nullptr);
    if (room == nullptr) return out;
    out.doubts = hold_doubts(*room, out.strip.from, out.strip.to, {}, out.strip.keys);
    out.steps = steps_of(*room, out.strip.from, out.strip.to);
    const KeyInterval* key = best_key(out.strip);
    if (key != nullptr)
        out.lock = leaks_of_lock(*room, key->span->from, key->span->to, key->window);
    else
        out.misses = nearest_misses(*room, out.strip.from, out.strip.to, {}, out.strip.keys);
    return out;
}

}  // namespace keyhour::study
