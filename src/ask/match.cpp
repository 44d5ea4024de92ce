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

class MatchAsker {
public:
    MatchAsker(const MatchRequest& request, MatchAnswer& answer) : request_{request}, a_{answer} {}

    std::optional<NoMatch> ask() {
        if (request_.key == study::ShotKey::sky) return NoMatch::no_direction;
        a_.shot.mark = request_.mark;
        a_.shot.camera = request_.camera;
        const auto none = request_.key == study::ShotKey::sun ? from_the_sun() : from_the_lamp();
        if (none) return none;
        const LevelVector& v = a_.shot.toward;
        a_.azimuth_deg = wrapped_turn(Angle::radians(std::atan2(v.east, v.north))).in_degrees();
        a_.altitude_deg =
            Angle::radians(std::atan2(v.up, std::hypot(v.east, v.north))).in_degrees();
        a_.key_angle_deg = key_angle(a_.shot_day->study(), v);
        match_dates();
        return std::nullopt;
    }

private:
    std::optional<NoMatch> from_the_sun() {
        const study::RoomStudy& study = a_.shot_day->study_on(a_.shot_day->dates.first);
        const study::Moment m = study.path().at(request_.shot_at);
        if (m.altitude_deg <= 0) return NoMatch::sun_was_down;
        a_.shot.toward = m.toward;
        const auto window =
            request_.window ? request_.window : study::lighting_window(study, request_.mark, m);
        if (!window) return NoMatch::no_window;
        a_.shot.window = *window;
        a_.shot.coverage = study::sunlit_share(study, request_.mark, *window, m);
        a_.is_lit = a_.shot.coverage > 0;
        const study::MarkLight light = lights_.of(study, a_.shot, request_.shot_at);
        a_.shot.lx = light.with_key_lx();
        a_.shot.kelvin = light.key_kelvin;
        if (!request_.lamp) return std::nullopt;
        a_.lamp_question.like = request_.shot_at;
        report_lamp(study);
        return std::nullopt;
    }

    std::optional<NoMatch> from_the_lamp() {
        if (!request_.lamp || !request_.lamp_at || !request_.lamp_height_m)
            return NoMatch::no_lamp_place;
        const study::RoomStudy& study = a_.shot_day->study();
        const room::Mark& mark = study.room().marks[request_.mark];
        const room::Point3 to{
            request_.lamp_at->x - mark.at.x, request_.lamp_at->y - mark.at.y,
            *request_.lamp_height_m - study.room().floor_above_ground_m - mark.height_m};
        const double far = std::sqrt(to.x * to.x + to.y * to.y + to.z * to.z);
        if (!(far > 0)) return NoMatch::no_lamp_place;
        a_.shot.toward = study::over_the_ground(study.room(), {to.x / far, to.y / far, to.z / far});
        report_lamp(study);
        a_.shot.window = a_.lamp->wish.window;
        a_.shot.coverage = a_.lamp->stand.wanted.coverage;
        a_.is_lit = a_.shot.coverage > 0;
        a_.shot.lx = a_.lamp->light ? a_.lamp->light->level_lx : 0;
        a_.shot.kelvin = study.location().lamps[*request_.lamp].kelvin;
        return std::nullopt;
    }

    void report_lamp(const study::RoomStudy& study) {
        study::LampQuestion& q = a_.lamp_question;
        q.lamp = *request_.lamp;
        q.mark = request_.mark;
        q.window = request_.window;
        if (request_.key == study::ShotKey::sun) q.window = a_.shot.window;
        q.camera = request_.camera;
        a_.lamp = study::report_lamp(study, nullptr, q);
    }

    void match_dates() {
        for (const auto& season : a_.dates_asked->seasons->stretches()) {
            auto found = study::light_matches(season->study, season->season.first,
                                              season->season.last, a_.shot, request_.settings);
            for (study::DateMatch& date : found) {
                MatchedDate out{std::move(date), std::nullopt};
                if (out.match.nearest) out.change = change(season->study, *out.match.nearest);
                a_.dates.push_back(std::move(out));
            }
        }
    }

    std::optional<LightChange> change(const study::RoomStudy& study,
                                      const study::MatchMoment& moment) {
        const study::MarkLight light = lights_.of(study, a_.shot, moment.at);
        LightChange out;
        out.lx = light.with_key_lx();
        if (!(out.lx > 0) || !(a_.shot.lx > 0)) return std::nullopt;
        out.stops = std::log2(out.lx / a_.shot.lx);
        if (light.key_kelvin && a_.shot.kelvin)
            out.mired = mired_over_kelvin / *light.key_kelvin - mired_over_kelvin / *a_.shot.kelvin;
        out.key_angle_deg = key_angle(study, study.path().at(moment.at).toward);
        return out;
    }

    std::optional<double> key_angle(const study::RoomStudy& study, const LevelVector& v) const {
        if (!request_.camera) return std::nullopt;
        return std::abs(room::key_angle(study.room(), study.room().cameras[*request_.camera],
                                        study.bearings().stated.to_plan(v))
                            .in_degrees());
    }

    const MatchRequest& request_;
    MatchAnswer& a_;
    LightsOfSeasons lights_;
};

}  // namespace

tl::expected<MatchAnswer, NoMatch> match(const site::Location& location, const DateRange& dates,
                                         const site::Recce& recce, const MatchRequest& request) {
    MatchAnswer answer;
    const site::LocalDate day = site::local_date(request.shot_at, location.site.zone);
    if (day < site::first_date || day > site::last_date)
        return tl::unexpected{NoMatch::years_not_served};
    answer.shot_day =
        RoomQuestion::prepare(as_shot(location, request), {day, day, false, false}, recce);
    answer.dates_asked = RoomQuestion::prepare(as_shot(location, request), dates, recce);
    if (!answer.shot_day || !answer.dates_asked) return tl::unexpected{NoMatch::years_not_served};
    if (const auto none = MatchAsker{request, answer}.ask()) return tl::unexpected{*none};
    return answer;
}

}  // namespace keyhour::ask
