#include "keyhour/study/shoot_light.hpp"

#include <algorithm>
#include <chrono>
#include <map>
#include <tuple>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/day.hpp"
#include "keyhour/study/lamp_day.hpp"
#include "keyhour/study/spot_doubt.hpp"
#include "keyhour/study/spot_light.hpp"

namespace keyhour::study {
namespace {

std::optional<Span> common_part(const Span& a, const Span& b) {
    const Span both{std::max(a.from, b.from), std::min(a.to, b.to), false, false};
    return both.from < both.to ? std::optional{both} : std::nullopt;
}

SceneLight certain(const Span& span) {
    return {span, span};
}

/// One place over all days, prepared when its first scene asks.
class PlaceLight {
public:
    PlaceLight(const Shoot& shoot, std::size_t place, std::size_t first_day,
               std::shared_ptr<const SharedTrack> track)
        : shoot_{shoot}, location_{shoot.places[place].location}, track_{std::move(track)} {
        if (!location_.room) return;
        const site::LocalDate first = shoot.days[first_day], last = shoot.days.back();
        seasons_.emplace(location_, track_, first, last);
        sun_.emplace(*seasons_, first, last, sun_of_lamp_day);
    }

    /// Scenes that want the same light share the answer.
    const SceneDay& of(const ShootScene& scene, std::size_t day) {
        const Wanted wanted{scene.light, scene.mark,   scene.camera,   scene.window,
                            scene.spot,  scene.length, scene.over_run, day};
        const auto known = known_.find(wanted);
        return known != known_.end() ? known->second
                                     : known_.emplace(wanted, found(scene, day)).first->second;
    }

private:
    using Part = std::optional<std::size_t>;
    using Wanted = std::tuple<LightWanted, Part, Part, Part, Part, std::chrono::minutes,
                              std::chrono::minutes, std::size_t>;

    SceneDay found(const ShootScene& scene, std::size_t day) {
        const site::LocalDate date = shoot_.days[day];
        SceneDay out;
        switch (scene.light) {
            case LightWanted::sun_key:
                out = sun_key(scene, date);
                break;
            case LightWanted::lamp_key:
                out = lamp_key(scene, date);
                break;
            case LightWanted::late:
            case LightWanted::front:
            case LightWanted::side:
            case LightWanted::back:
            case LightWanted::direct:
                out = at_spot(scene, date);
                break;
            case LightWanted::daylight:
            case LightWanted::dusk:
            case LightWanted::night:
                out = by_the_sky(scene.light, date);
                break;
            case LightWanted::any:
                out = {certain(
                    {zone().start_of(date), zone().start_of(site::next_day(date)), false, false})};
        }
        std::ranges::sort(out, {}, [](const SceneLight& l) { return l.stated.from; });
        return out;
    }

    const site::Zone& zone() const { return location_.site.zone; }

    template <class Parts>
    static std::optional<std::string> name_of(const Parts& parts, std::optional<std::size_t> i) {
        return i ? std::optional{parts[*i].name} : std::nullopt;
    }

    /// Adds one that no other camera of the same mark has given.
    static void add(SceneDay& out, const SceneLight& light) {
        if (std::ranges::none_of(out, [&](const SceneLight& l) {
                return l.stated.from == light.stated.from && l.stated.to == light.stated.to;
            }))
            out.push_back(light);
    }

    SceneDay sun_key(const ShootScene& scene, site::LocalDate date) const {
        const room::Room& room = *location_.room;
        KeySettings settings;
        settings.mark = name_of(room.marks, scene.mark);
        settings.camera = name_of(room.cameras, scene.camera);
        settings.window = name_of(room.windows, scene.window);
        SceneDay out;
        for (const KeyInterval& key : clean_key(seasons_->on(date), zone().start_of(date),
                                                zone().start_of(site::next_day(date)), settings))
            if (key.span) add(out, {*key.span, key.sure});
        return out;
    }

    SceneDay lamp_key(const ShootScene& scene, site::LocalDate date) {
        const room::Room& room = *location_.room;
        LampSettings settings;
        settings.lock = scene.length + scene.over_run;
        settings.mark = name_of(room.marks, scene.mark);
        settings.camera = name_of(room.cameras, scene.camera);
        settings.window = name_of(room.windows, scene.window);
        settings.earliest = shoot_.rules.hours.from;
        settings.latest = shoot_.rules.hours.to;
        SceneDay out;
        for (const SunFreeSpan& free :
             sun_free_spans(sun_->on(date), date, sun_->is_first(date), settings, Edges::left_out))
            if (free.span) add(out, {*free.span, free.sure});
        return out;
    }

    SceneDay at_spot(const ShootScene& scene, site::LocalDate date) const {
        const SpotLight spot{location_, *scene.spot, track_};
        const SpotDay day = spot.on(date);
        SceneDay out;
        if (scene.light == LightWanted::late) {
            for (const SafeStart& late : day.for_late_light)
                out.push_back(certain(late.light));
            return out;
        }
        const std::vector<Span> sure = sure_light(*scene.spot, day);
        const auto add_light = [&](const Span& span) {
            SceneLight light{span, {}};
            for (const Span& s : sure)
                if (const auto both = common_part(s, span)) light.sure = both;
            out.push_back(light);
        };
        if (scene.light == LightWanted::direct)
            for (const DirectSpan& direct : day.direct)
                add_light(direct.span);
        for (const SideSpan& side : day.sides)
            if (scene.light == wanted(side.side)) add_light(side.span);
        return out;
    }

    static LightWanted wanted(site::Side side) {
        return side == site::Side::front  ? LightWanted::front
               : side == site::Side::side ? LightWanted::side
                                          : LightWanted::back;
    }

    /// Of the direct light, what nine of ten members of the ensemble have.
    std::vector<Span> sure_light(std::size_t spot, const SpotDay& day) const {
        std::vector<Span> out;
        const auto ends = SpotEnsemble{location_, spot, track_}.ends(day.direct, day.date);
        for (std::size_t i = 0; i < day.direct.size(); ++i) {
            Span s = day.direct[i].span;
            if (ends[i].begins) s.from = std::max(s.from, ends[i].begins->to);
            if (ends[i].ends) s.to = std::min(s.to, ends[i].ends->from);
            out.push_back(s);
        }
        return out;
    }

    SceneDay by_the_sky(LightWanted light, site::LocalDate date) const {
        const Day day = study::day(location_.site, track_->track(), date);
        const Instant from = zone().start_of(date), to = zone().start_of(site::next_day(date));
        const auto before = [&](DayEventKind begins, DayEventKind ends, bool runs_all_day) {
            return between(day, begins, ends, runs_all_day, from, to);
        };
        const bool up = day.state == DayState::sun_always_up;
        switch (light) {
            case LightWanted::daylight:
                return before(DayEventKind::rise, DayEventKind::set, up);
            case LightWanted::dusk: {
                SceneDay out;
                for (const SceneLight& dusk :
                     before(DayEventKind::set, DayEventKind::civil_dusk, false))
                    if (dusk.stated.from != from) out.push_back(dusk);
                return out;
            }
            default:
                return before(DayEventKind::nautical_dusk, DayEventKind::nautical_dawn,
                              is_dark_all_day(day));
        }
    }

    static bool is_dark_all_day(const Day& day) {
        return std::ranges::any_of(day.absent, [](const AbsentEvent& a) {
            return a.kind == DayEventKind::nautical_dusk && a.sun == sun::Side::always_below;
        });
    }

    /// From each event of one kind to the next of the other, and from midnight and to it.
    static SceneDay between(const Day& day, DayEventKind begins, DayEventKind ends, bool all_day,
                            Instant from, Instant to) {
        SceneDay out;
        std::optional<Instant> begun;
        for (const DayEvent& event : day.events) {
            if (event.kind != begins && event.kind != ends) continue;
            if (event.kind == ends)
                out.push_back(certain({begun.value_or(from), event.at, false, false}));
            begun = event.kind == begins ? std::optional{event.at} : std::nullopt;
        }
        if (begun || all_day) out.push_back(certain({begun.value_or(from), to, false, false}));
        return out;
    }

    const Shoot& shoot_;
    const site::Location& location_;
    std::shared_ptr<const SharedTrack> track_;
    std::optional<SeasonalStudy> seasons_;
    std::optional<SeasonalSun> sun_;
    std::map<Wanted, SceneDay> known_;
};

}  // namespace

std::optional<ShootLight> light_of(const Shoot& shoot, std::size_t first_day,
                                   std::span<const std::size_t> done) {
    constexpr Seconds margin{3 * 86400.0};
    ShootLight out;
    out.track = SharedTrack::make(shoot.zone().start_of(shoot.days.front()) - margin,
                                  shoot.zone().start_of(shoot.days.back()) + 2 * margin);
    if (!out.track) return std::nullopt;
    std::vector<std::unique_ptr<PlaceLight>> places(shoot.places.size());
    out.scenes.resize(shoot.scenes.size());
    out.first_day = first_day;
    for (std::size_t i = 0; i < shoot.scenes.size(); ++i) {
        const ShootScene& scene = shoot.scenes[i];
        out.scenes[i].resize(shoot.days.size());
        if (std::ranges::find(done, i) != done.end()) continue;
        auto& place = places[scene.place];
        if (!place) place = std::make_unique<PlaceLight>(shoot, scene.place, first_day, out.track);
        for (std::size_t d = first_day; d < shoot.days.size(); ++d)
            out.scenes[i][d] = place->of(scene, d);
    }
    return out;
}

}  // namespace keyhour::study
