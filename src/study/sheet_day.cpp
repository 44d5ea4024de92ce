#include "keyhour/study/sheet_day.hpp"

#include <algorithm>
#include <cmath>

#include "keyhour/study/mark_light.hpp"
#include "keyhour/study/patch_doubt.hpp"
#include "spot_parts.hpp"

namespace keyhour::study {
namespace {

/// The window that gives a mark most light.
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

/// What the slider shows, at any instant.
class Steps {
public:
    explicit Steps(const RoomStudy& room) : room_{room}, light_{room}, rooms_{room} {}

    [[nodiscard]] SheetStep at(Instant t) const {
        SheetStep step{patches_at(room_, t), {}, {}};
        step.edge_bands_m = rooms_.edge_bands_m(step.now);
        const Moment m = room_.path().at(t);
        for (std::size_t mark = 0; mark < room_.room().marks.size(); ++mark)
            step.marks.push_back(reading(light_, mark, m));
        return step;
    }

    [[nodiscard]] std::vector<SheetStep> of_day(Instant from, Instant to) const {
        std::vector<SheetStep> out;
        for (int i = 0; from + i * sheet_step < to; ++i)
            if (sun_is_up(room_, from + i * sheet_step)) out.push_back(at(from + i * sheet_step));
        return out;
    }

    [[nodiscard]] std::vector<SheetChange> of_changes(const std::vector<LightChange>& all) const {
        const auto minute = [](Instant t) { return std::floor((t.unix_s() + 30) / 60); };
        std::vector<SheetChange> out;
        for (const LightChange& change : all) {
            if (!out.empty() && minute(out.back().at) == minute(change.at)) {
                out.back().changes.push_back(change);
                continue;
            }
            using Kind = LightChange::Kind;
            const bool ends = change.kind == Kind::key_ends || change.kind == Kind::sun_out;
            out.push_back({change.at, {change}, at(change.at + Seconds{ends ? -1.0 : 1.0})});
        }
        return out;
    }

private:
    const RoomStudy& room_;
    RoomLight light_;
    PatchEnsemble rooms_;
};

std::vector<std::vector<SpotEnsemble::Ends>> ends_of_spots(
    const site::Location& location, const std::shared_ptr<const SharedTrack>& shared,
    const DayStrip& strip) {
    std::vector<std::vector<SpotEnsemble::Ends>> out;
    for (std::size_t i = 0; i < strip.spots.size(); ++i) {
        out.emplace_back();
        if (strip.spots[i].direct.empty()) continue;
        out.back() = SpotEnsemble{location, i, shared}.ends(strip.spots[i].direct, strip.date);
    }
    return out;
}

std::optional<Instant> first_wanted(const DayStrip& strip, bool has_room) {
    if (strip.planned && strip.planned->day.lock) return strip.planned->day.lock->lock.from;
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
    return sheet_day(location, room, shared, day_strip(location, room, shared, date));
}

SheetDay sheet_day(const site::Location& location, const RoomStudy* room,
                   const std::shared_ptr<const SharedTrack>& shared, DayStrip strip) {
    SheetDay out;
    out.strip = std::move(strip);
    out.spot_ends = ends_of_spots(location, shared, out.strip);
    for (std::size_t i = 0; i < out.strip.spots.size(); ++i)
        add_sky(out.strip.spots[i].late_light, location.site,
                SunPath{level_site_at(location.site, location.spots[i]), shared});
    out.ready_by = first_wanted(out.strip, room != nullptr);
    if (room == nullptr) return out;
    out.doubts = hold_doubts(*room, out.strip.from, out.strip.to, {}, out.strip.keys);
    const Steps steps{*room};
    out.steps = steps.of_day(out.strip.from, out.strip.to);
    out.changes = steps.of_changes(light_changes(*room, out.strip));
    const KeyInterval* key = best_key(out.strip);
    if (out.strip.planned)
        out.lock = out.strip.planned->day.lock;
    else if (key != nullptr)
        out.lock = leaks_of_lock(*room, key->span->from, key->span->to, key->window);
    if (key == nullptr)
        out.misses = nearest_misses(*room, out.strip.from, out.strip.to, {}, out.strip.keys);
    return out;
}

}  // namespace keyhour::study
