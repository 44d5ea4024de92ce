#include "bearing_document.hpp"

#include <nlohmann/json.hpp>

#include "keyhour/site/dates.hpp"

namespace keyhour::tell {
namespace {

using namespace study;

Json json_of(const AltitudeCheck& check) {
    Json j;
    j["measured_deg"] = rounded(check.measured_deg, 5);
    j["sun_deg"] = rounded(check.sun_deg, 5);
    j["standard_uncertainty_deg"] = rounded(check.sigma_deg, 5);
    j["wrong"] = culprit_in_words(check.culprit);
    j["clock_off_s"] = check.clock_off_s ? Json(rounded(*check.clock_off_s, 1)) : Json(nullptr);
    j["edge_m"] = rounded(check.edge_m, 5);
    j["edge_would_be_m"] = rounded(check.edge_would_be_m, 5);
    return j;
}

Json json_of(const Observation& observation, const ObservationResult& result,
             const site::Zone& zone) {
    Json j;
    j["name"] = observation.name;
    j["kind"] = kind_in_words(observation);
    const auto time = time_of(observation);
    j["utc"] = time ? Json(site::iso_utc(time->at, 3)) : Json(nullptr);
    j["local"] = time ? Json(site::iso_local(time->at, zone, 3)) : Json(nullptr);
    j["faces_deg"] = rounded_turn(result.faces.from_north, 5);
    j["or_faces_deg"] =
        result.or_faces ? Json(rounded_turn(result.or_faces->from_north, 5)) : Json(nullptr);
    j["if_clock_faces_deg"] =
        result.if_clock ? Json(rounded_turn(result.if_clock->from_north, 5)) : Json(nullptr);
    j["standard_uncertainty_deg"] = rounded(result.residual.sigma_deg, 5);
    j["residual_deg"] = rounded(result.residual.residual_deg, 5);
    j["normalised_residual"] = rounded(result.residual.normalised, 4);
    j["used"] = result.residual.used;
    j["sun_behind_wall_deg"] =
        result.sun_behind_deg ? Json(rounded(*result.sun_behind_deg, 3)) : Json(nullptr);
    j["sun_behind_wall_in_file_deg"] = result.sun_behind_in_file_deg
                                           ? Json(rounded(*result.sun_behind_in_file_deg, 3))
                                           : Json(nullptr);
    j["behind_skyline"] = result.behind_skyline;
    j["altitude"] = result.altitude ? json_of(*result.altitude) : Json(nullptr);
    return j;
}

Json json_of(const NextObservation& next, const site::Location& location) {
    const bool by_window = next.kind == NextObservation::Kind::jamb_shadow;
    Json j;
    j["kind"] = next_in_words(next.kind);
    j["wall"] = by_window ? Json(nullptr) : Json(location.room->walls[next.index]);
    j["window"] = by_window ? Json(location.room->windows[next.index].name) : Json(nullptr);
    j["utc"] = site::iso_utc(next.at, 3);
    j["local"] = site::iso_local(next.at, location.site.zone, 3);
    j["shadow_m"] = rounded(next.shadow_m, 3);
    j["standard_uncertainty_deg"] = rounded(next.sigma_deg, 5);
    j["together_deg"] = rounded(next.sigma_after_deg, 5);
    return j;
}

Json names_of(const std::vector<std::size_t>& which, const BearingQuestion& question) {
    Json names = Json::array();
    for (const std::size_t i : which)
        names.push_back(question.observations[i].name);
    return names;
}

Json json_of(const ClockDoubt& clock, const BearingQuestion& question) {
    Json j;
    j["suspected"] = clock_in_words(clock.trial.fast_s);
    j["fast_s"] = rounded(clock.trial.fast_s, 1);
    j["faces_deg"] = rounded_turn(clock.faces.from_north, 5);
    j["within_95_deg"] = rounded(clock.within_95.in_degrees(), 5);
    j["if_right_faces_deg"] = rounded_turn(clock.if_right.from_north, 5);
    j["if_right_within_95_deg"] = rounded(clock.if_right_within_95.in_degrees(), 5);
    j["set_aside"] = names_of(clock.trial.set_aside, question);
    return j;
}

Json json_of(const ClockTrial& trial, const BearingQuestion& question,
             const BearingAnswer& answer) {
    const double from_y =
        answer.faces.from_north.in_degrees() - answer.plan.from_north.in_degrees();
    Json j;
    j["fast_s"] = rounded(trial.fast_s, 1);
    j["faces_deg"] = rounded_turn(Angle::degrees(turn_deg(trial.plan_deg + from_y)), 5);
    j["standard_uncertainty_deg"] = rounded(trial.sigma_deg, 5);
    j["chance"] = rounded(trial.chance, 6);
    j["cost"] = rounded(trial.cost, 3);
    j["set_aside"] = names_of(trial.set_aside, question);
    return j;
}

}  // namespace

const char* culprit_in_words(Culprit culprit) noexcept {
    switch (culprit) {
        case Culprit::none:
            return "none";
        case Culprit::clock:
            return "clock";
        case Culprit::heights:
            return "heights";
        case Culprit::clock_or_heights:
            return "clock or heights";
        case Culprit::bearing_or_left:
            return "bearing or left";
        case Culprit::more_than_one:
            break;
    }
    return "more than one";
}

const char* next_in_words(NextObservation::Kind kind) noexcept {
    switch (kind) {
        case NextObservation::Kind::graze_begins:
            return "graze begins";
        case NextObservation::Kind::graze_ends:
            return "graze ends";
        case NextObservation::Kind::jamb_shadow:
            return "jamb shadow";
        case NextObservation::Kind::plumb_line:
            break;
    }
    return "plumb line";
}

Json json_of(const BearingReport& report, const site::Location& location) {
    const BearingAnswer& a = report.answer;
    const room::Room& room = *location.room;
    Json j;
    j["wall"] = room.walls[a.wall];
    j["faces_deg"] = rounded_turn(a.faces.from_north, 5);
    j["standard_uncertainty_deg"] = rounded(a.sigma.in_degrees(), 5);
    j["within_95_deg"] = rounded(a.within_95.in_degrees(), 5);
    j["or_faces_deg"] = a.other ? Json(rounded_turn(a.other->from_north, 5)) : Json(nullptr);
    j["chi_square"] = rounded(a.fit.chi_square, 4);
    j["degrees_of_freedom"] = a.fit.freedom;
    j["chance"] = rounded(a.fit.chance, 6);
    j["widened"] = rounded(a.fit.widened, 4);
    j["left_out"] = names_of(a.fit.left_out, report.question);
    j["suspects"] = names_of(a.fit.suspects, report.question);
    j["clock_within_s"] = report.question.clock_within_s;
    j["clock_stated_fast_s"] = report.clock_fast_s ? Json(*report.clock_fast_s) : Json(nullptr);
    j["clock"] = a.clock ? json_of(*a.clock, report.question) : Json(nullptr);
    j["clock_tried"] = Json::array();
    for (const ClockTrial& trial : a.clock_trials)
        j["clock_tried"].push_back(json_of(trial, report.question, a));
    Json stated;
    const Azimuth in_file = room::wall_faces(room, a.wall);
    stated["faces_deg"] = rounded_turn(in_file.from_north, 5);
    stated["within_deg"] = rounded(room.bearing.within.in_degrees(), 5);
    stated["difference_deg"] =
        rounded(wrapped_half_turn(a.faces.from_north - in_file.from_north).in_degrees(), 5);
    j["in_file"] = std::move(stated);
    j["observations"] = Json::array();
    for (std::size_t i = 0; i < a.results.size(); ++i)
        j["observations"].push_back(
            json_of(report.question.observations[i], a.results[i], location.site.zone));
    j["next"] = Json::array();
    for (const NextObservation& next : report.next)
        j["next"].push_back(json_of(next, location));
    j["settled"] = a.is_settled();
    j["line"] = report.line.empty() ? Json(nullptr) : Json(report.line);
    j["written"] = report.is_written;
    return j;
}

}  // namespace keyhour::tell
