#include "keyhour/ask/match.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "keyhour/site/dates.hpp"

namespace keyhour::ask {
namespace {

constexpr double mired_over_kelvin = 1e6;

/// With the cloth that hung at the shot, and its lamp where it stood.
site::Location as_shot(site::Location location, const MatchRequest& request) {
    for (const std::size_t w : request.black_cloth)
        if (w != request.window) location.room->windows[w].cover = room::Cover::blackout;
    if (request.key == study::ShotKey::lamp && request.lamp) {
        location.lamps[*request.lamp].at = request.lamp_at;
        location.lamps[*request.lamp].height_m = request.lamp_height_m;
    }
    return location;
}

/// Lights of rooms, prepared when the first date of a season asks.
class LightsOfSeasons {
public:
    study::MarkLight of(const study::RoomStudy& study, const study::ShotLight& shot, Instant at) {
        return lights_.try_emplace(&study, study)
            .first->second.at(shot.mark, shot.window, study.path().at(at));
    }

private:
    std::map<const study::RoomStudy*, study::RoomLight> lights_;
};

std::optional<double> key_angle(const study::RoomStudy& study, const MatchRequest& request,
                                const LevelVector& toward) {
    if (!request.camera) return std::nullopt;
    return std::abs(room::key_angle(study.room(), study.room().cameras[*request.camera],
                                    study.bearings().stated.to_plan(toward))
                        .in_degrees());
}

class ShotAsker {
public:
    ShotAsker(const MatchRequest& request, ShotAnswer& answer, LightsOfSeasons& lights)
        : request_{request}, a_{answer}, lights_{lights} {}

    std::optional<NoMatch> ask() {
        if (request_.key == study::ShotKey::sky) return NoMatch::no_direction;
        a_.light.mark = request_.mark;
        a_.light.camera = request_.camera;
        const auto none = request_.key == study::ShotKey::sun ? from_the_sun() : from_the_lamp();
        if (none) return none;
        const LevelVector& v = a_.light.toward;
        a_.azimuth_deg = wrapped_turn(Angle::radians(std::atan2(v.east, v.north))).in_degrees();
        a_.altitude_deg =
            Angle::radians(std::atan2(v.up, std::hypot(v.east, v.north))).in_degrees();
        a_.is_lit = a_.light.coverage > 0;
        a_.key_angle_deg = key_angle(a_.day->study(), request_, v);
        return std::nullopt;
    }

private:
    std::optional<NoMatch> from_the_sun() {
        const study::RoomStudy& study = a_.day->study();
        const study::Moment m = study.path().at(request_.shot_at);
        if (m.altitude_deg <= 0) return NoMatch::sun_was_down;
        a_.light.toward = m.toward;
        const auto window =
            request_.window ? request_.window : study::lighting_window(study, request_.mark, m);
        if (!window) return NoMatch::no_window;
        a_.light.window = *window;
        a_.light.coverage = study::sunlit_share(study, request_.mark, *window, m);
        const study::MarkLight light = lights_.of(study, a_.light, request_.shot_at);
        a_.light.lx = light.with_key_lx();
        a_.light.kelvin = light.key_kelvin;
        if (!request_.lamp) return std::nullopt;
        a_.lamp_question.like = request_.shot_at;
        report_lamp(study);
        return std::nullopt;
    }

    std::optional<NoMatch> from_the_lamp() {
        if (!request_.lamp || !request_.lamp_at || !request_.lamp_height_m)
            return NoMatch::no_lamp_place;
        const study::RoomStudy& study = a_.day->study();
        const room::Mark& mark = study.room().marks[request_.mark];
        const room::Point3 to{
            request_.lamp_at->x - mark.at.x, request_.lamp_at->y - mark.at.y,
            *request_.lamp_height_m - study.room().floor_above_ground_m - mark.height_m};
        const double far = std::sqrt(to.x * to.x + to.y * to.y + to.z * to.z);
        if (!(far > 0)) return NoMatch::no_lamp_place;
        a_.light.toward =
            study::over_the_ground(study.room(), {to.x / far, to.y / far, to.z / far});
        report_lamp(study);
        a_.light.window = a_.lamp->wish.window;
        a_.light.coverage = a_.lamp->stand.wanted.coverage;
        a_.light.lx = a_.lamp->light ? a_.lamp->light->level_lx : 0;
        a_.light.kelvin = study.location().lamps[*request_.lamp].kelvin;
        return std::nullopt;
    }

    void report_lamp(const study::RoomStudy& study) {
        study::LampQuestion& q = a_.lamp_question;
        q.lamp = *request_.lamp;
        q.mark = request_.mark;
        q.window = request_.window;
        if (request_.key == study::ShotKey::sun) q.window = a_.light.window;
        q.camera = request_.camera;
        a_.lamp = study::report_lamp(study, nullptr, q);
    }

    const MatchRequest& request_;
    ShotAnswer& a_;
    LightsOfSeasons& lights_;
};

std::optional<MatchChange> change(const study::RoomStudy& study, const study::MatchMoment& moment,
                                  const study::ShotLight& shot, const MatchRequest& request,
                                  LightsOfSeasons& lights) {
    const study::MarkLight light = lights.of(study, shot, moment.at);
    MatchChange out;
    out.lx = light.with_key_lx();
    if (!(out.lx > 0) || !(shot.lx > 0)) return std::nullopt;
    out.stops = std::log2(out.lx / shot.lx);
    if (light.key_kelvin && shot.kelvin)
        out.mired = mired_over_kelvin / *light.key_kelvin - mired_over_kelvin / *shot.kelvin;
    out.key_angle_deg = key_angle(study, request, study.path().at(moment.at).toward);
    return out;
}

tl::expected<ShotAnswer, NoMatch> shot_in(const site::Location& as_it_was, const site::Recce& recce,
                                          const MatchRequest& request, LightsOfSeasons& lights) {
    const site::LocalDate day = site::local_date(request.shot_at, as_it_was.site.zone);
    if (day < site::first_date || day > site::last_date)
        return tl::unexpected{NoMatch::years_not_served};
    ShotAnswer answer;
    answer.day = RoomQuestion::prepare(as_it_was, {day, day, false, false}, recce);
    if (!answer.day) return tl::unexpected{NoMatch::years_not_served};
    if (const auto none = ShotAsker{request, answer, lights}.ask()) return tl::unexpected{*none};
    return answer;
}

}  // namespace

tl::expected<ShotAnswer, NoMatch> shot(const site::Location& location, const site::Recce& recce,
                                       const MatchRequest& request) {
    LightsOfSeasons lights;
    return shot_in(as_shot(location, request), recce, request, lights);
}

tl::expected<MatchAnswer, NoMatch> match(const site::Location& location, const DateRange& dates,
                                         const site::Recce& recce, const MatchRequest& request) {
    const site::Location as_it_was = as_shot(location, request);
    LightsOfSeasons lights;
    auto before = shot_in(as_it_was, recce, request, lights);
    if (!before) return tl::unexpected{before.error()};
    MatchAnswer answer{*std::move(before), RoomQuestion::prepare(as_it_was, dates, recce), {}};
    if (!answer.dates_asked) return tl::unexpected{NoMatch::years_not_served};
    const study::ShotLight& light = answer.shot.light;
    for (const auto& season : answer.dates_asked->seasons->stretches())
        for (study::DateMatch date :
             study::light_matches(season->study, season->season.first, season->season.last, light,
                                  request.settings)) {
            MatchedDate out{std::move(date), std::nullopt};
            if (out.match.nearest)
                out.change = change(season->study, *out.match.nearest, light, request, lights);
            answer.dates.push_back(std::move(out));
        }
    return answer;
}

}  // namespace keyhour::ask
