#include "key_answer.hpp"

#include <algorithm>

#include "keyhour/study/clean_key.hpp"

namespace keyhour::cli {
namespace {

/// Long ranges are worked through in stretches of this many dates, so that memory stays level.
constexpr int stretch_days = 366;

/// The one of two that came nearer.
bool is_nearer(const study::NearestMiss& a, const study::NearestMiss& b) {
    if (a.centre.has_value() != b.centre.has_value()) return a.centre.has_value();
    return a.coverage > b.coverage;
}

/// One for each mark, camera and window: those of many seasons, the nearest of each.
void keep_nearest(std::vector<study::NearestMiss>& all, std::vector<study::NearestMiss> more) {
    for (study::NearestMiss& miss : more) {
        const auto same = std::find_if(all.begin(), all.end(), [&](const study::NearestMiss& m) {
            return m.mark == miss.mark && m.camera == miss.camera && m.window == miss.window;
        });
        if (same == all.end())
            all.push_back(std::move(miss));
        else if (is_nearer(miss, *same))
            *same = std::move(miss);
    }
}

/// The first `count` intervals by season, and where each stood.
struct SeasonKeys {
    study::AskedKey key;
    std::vector<std::size_t> places;
};

std::vector<SeasonKeys> by_season(const RoomQuestion& q, const SunAnswer& answer,
                                  std::size_t count) {
    std::vector<SeasonKeys> out;
    for (const auto& season : q.seasons->stretches())
        out.push_back(
            {{&season->study, q.start_of(season->season.first), q.end_of(season->season.last), {}},
             {}});
    for (std::size_t i = 0; i < count; ++i) {
        const study::RoomStudy& study = q.seasons->at(start_of(answer.intervals[i]));
        const auto own = std::find_if(out.begin(), out.end(),
                                      [&](const SeasonKeys& s) { return s.key.study == &study; });
        own->key.intervals.push_back(answer.intervals[i]);
        own->places.push_back(i);
    }
    return out;
}

}  // namespace

void add_doubts(const RoomQuestion& q, const study::KeySettings& wanted,
                const study::EnsembleSettings& ensemble, std::size_t count, SunAnswer& answer) {
    answer.doubts.resize(count);
    for (const SeasonKeys& season : by_season(q, answer, count)) {
        const auto doubts = study::hold_doubts(*season.key.study, season.key.from, season.key.to,
                                               wanted, season.key.intervals, ensemble);
        for (std::size_t i = 0; i < doubts.size(); ++i)
            answer.doubts[season.places[i]] = doubts[i];
    }
}

void add_why(const RoomQuestion& q, const study::KeySettings& wanted,
             const study::EnsembleSettings& ensemble, SunAnswer& answer) {
    std::vector<study::AskedKey> asked;
    for (SeasonKeys& season : by_season(q, answer, answer.intervals.size()))
        asked.push_back(std::move(season.key));
    answer.why = study::why_unsure(asked, wanted, ensemble);
}

Instant start_of(const study::KeyInterval& interval) {
    return interval.span ? interval.span->from : interval.possible.from;
}

SunAnswer ask_sun(const RoomQuestion& q, const study::KeySettings& wanted) {
    SunAnswer answer;
    const auto& seasons = q.seasons->stretches();
    for (const auto& season : seasons) {
        date::sys_days first{season->season.first};
        const date::sys_days last{season->season.last};
        while (first <= last) {
            const date::sys_days end = std::min(first + date::days{stretch_days - 1}, last);
            auto found = study::clean_key(season->study, q.start_of(first), q.end_of(end), wanted);
            answer.intervals.insert(answer.intervals.end(), found.begin(), found.end());
            first = end + date::days{1};
        }
    }
    study::sort_best_first(answer.intervals);
    for (const auto& season : seasons)
        keep_nearest(answer.misses, study::nearest_misses(
                                        season->study, q.start_of(season->season.first),
                                        q.end_of(season->season.last), wanted, answer.intervals));
    return answer;
}

const study::RoomLight& IntervalLight::room_of(const study::KeyInterval& interval) {
    const study::RoomStudy& study = q_.seasons->at(start_of(interval));
    return lights_.try_emplace(&study, study).first->second;
}

std::optional<study::KeyLight> IntervalLight::of(const study::KeyInterval& interval) {
    if (!interval.span) return std::nullopt;
    study::KeyLight light =
        study::key_light(q_.seasons->at(start_of(interval)), room_of(interval), interval);
    if (only_camera_)
        std::erase_if(light.beams, [&](const study::BeamInHaze& beam) {
            return q_.location.room->cameras[beam.camera].name != *only_camera_;
        });
    return light;
}

study::LightDrift IntervalLight::drift(const study::KeyInterval& interval) {
    return study::drift(room_of(interval), q_.seasons->at(start_of(interval)).path(), interval.mark,
                        interval.window, interval.span->from, interval.span->to);
}

std::vector<tell::DarkKey> take_out_dark(SunAnswer& answer, IntervalLight& light) {
    std::vector<tell::DarkKey> dark;
    const auto& wish = light.camera().wish;
    if (!wish) return dark;
    std::erase_if(answer.intervals, [&](const study::KeyInterval& k) {
        if (!k.span) return false;
        const study::LightDrift drift = light.drift(k);
        if (study::allows(drift, *wish)) return false;
        dark.push_back({k, -study::weakest_stops(drift, *wish).likely});
        return true;
    });
    std::stable_sort(dark.begin(), dark.end(), [](const tell::DarkKey& a, const tell::DarkKey& b) {
        return a.missing_stops < b.missing_stops;
    });
    return dark;
}

}  // namespace keyhour::cli
