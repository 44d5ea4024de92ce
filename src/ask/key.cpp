#include "keyhour/ask/key.hpp"

#include <algorithm>

#include "keyhour/study/clean_key.hpp"

namespace keyhour::ask {
namespace {

/// Long ranges are worked through in stretches of this many dates, so that memory stays level.
constexpr int stretch_days = 366;

/// One for each mark, camera and window: those of many seasons, the nearest of each.
void keep_nearest(std::vector<study::NearestMiss>& all, std::vector<study::NearestMiss> more) {
    for (study::NearestMiss& miss : more) {
        const auto same = std::find_if(all.begin(), all.end(), [&](const study::NearestMiss& m) {
            return m.mark == miss.mark && m.camera == miss.camera && m.window == miss.window;
        });
        if (same == all.end())
            all.push_back(std::move(miss));
        else if (study::is_nearer(miss, *same))
            *same = std::move(miss);
    }
}

/// The first `count` intervals by season, and where each stood.
struct SeasonKeys {
    study::AskedKey key;
    std::vector<std::size_t> places;
};

std::vector<SeasonKeys> by_season(const RoomQuestion& q, const KeyAnswer& answer,
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

/// Asks the ensemble about the intervals that are described.
void add_doubts(const RoomQuestion& q, const KeyRequest& request, KeyAnswer& answer) {
    answer.doubts.resize(answer.described);
    for (const SeasonKeys& season : by_season(q, answer, answer.described)) {
        const auto doubts =
            study::hold_doubts(*season.key.study, season.key.from, season.key.to, request.settings,
                               season.key.intervals, request.ensemble);
        for (std::size_t i = 0; i < doubts.size(); ++i)
            answer.doubts[season.places[i]] = doubts[i];
    }
}

/// Ranks what to measure better, by what it does to all intervals.
void add_why(const RoomQuestion& q, const KeyRequest& request, KeyAnswer& answer) {
    std::vector<study::AskedKey> asked;
    for (SeasonKeys& season : by_season(q, answer, answer.intervals.size()))
        asked.push_back(std::move(season.key));
    answer.why = study::why_unsure(asked, request.settings, request.ensemble);
}

void find_intervals(const RoomQuestion& q, const study::KeySettings& wanted, KeyAnswer& answer) {
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
}

/// Sets the holds apart that are too dark for the wanted stop. Those that are only possible stay:
/// nothing is told of their light.
void take_out_dark(const RoomQuestion& q, const study::StopWish& wish, KeyAnswer& answer) {
    IntervalLight light{q};
    std::erase_if(answer.intervals, [&](const study::KeyInterval& k) {
        if (!k.span) return false;
        const study::LightDrift drift = light.drift(k);
        if (study::allows(drift, wish)) return false;
        answer.dark.push_back({k, -study::weakest_stops(drift, wish).likely});
        return true;
    });
    std::stable_sort(
        answer.dark.begin(), answer.dark.end(),
        [](const DarkKey& a, const DarkKey& b) { return a.missing_stops < b.missing_stops; });
}

}  // namespace

Instant start_of(const study::KeyInterval& interval) {
    return interval.span ? interval.span->from : interval.possible.from;
}

KeyAnswer key(const RoomQuestion& question, const KeyRequest& request) {
    KeyAnswer answer;
    find_intervals(question, request.settings, answer);
    if (request.camera.wish) take_out_dark(question, *request.camera.wish, answer);
    const std::size_t found = answer.intervals.size();
    answer.described = std::min(found, request.most.value_or(found));
    for (std::size_t i = 0; i < answer.described; ++i)
        study::describe(question.seasons->at(start_of(answer.intervals[i])), request.settings,
                        answer.intervals[i]);
    answer.together = study::keys_together(answer.intervals);
    if (request.doubts) add_doubts(question, request, answer);
    if (request.why_unsure) add_why(question, request, answer);
    return answer;
}

const study::RoomLight& IntervalLight::room_of(const study::KeyInterval& interval) {
    const study::RoomStudy& study = question_.seasons->at(start_of(interval));
    return lights_.try_emplace(&study, study).first->second;
}

std::optional<study::KeyLight> IntervalLight::of(const study::KeyInterval& interval) {
    if (!interval.span) return std::nullopt;
    study::KeyLight light =
        study::key_light(question_.seasons->at(start_of(interval)), room_of(interval), interval);
    if (only_camera_)
        std::erase_if(light.beams, [&](const study::BeamInHaze& beam) {
            return question_.location.room->cameras[beam.camera].name != *only_camera_;
        });
    return light;
}

study::LightDrift IntervalLight::drift(const study::KeyInterval& interval) {
    return study::drift(room_of(interval), question_.seasons->at(start_of(interval)).path(),
                        interval.mark, interval.window, interval.span->from, interval.span->to);
}

}  // namespace keyhour::ask
