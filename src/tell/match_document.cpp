#include "tell/match_document.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "keyhour/site/dates.hpp"
#include "tell/csv.hpp"
#include "words/shot_names.hpp"

namespace keyhour::tell {
namespace {

Json or_null(const std::optional<double>& value, int decimals) {
    return value ? Json(rounded(*value, decimals)) : Json(nullptr);
}

Json or_null(const std::string& text) {
    return text.empty() ? Json(nullptr) : Json(text);
}

class MatchDocument {
public:
    MatchDocument(const ask::MatchAnswer& answer, const MatchQuestion& q)
        : a_{answer}, q_{q}, zone_{answer.dates_asked->location.site.zone} {}

    Json document() const {
        Json out;
        out["shot"] = shot();
        out["within_deg"] = rounded(q_.settings.within_deg);
        out["coverage"] = rounded(q_.settings.coverage);
        out["notes"] = q_.loud;
        out["clock_changes"] = Json::array();
        for (const site::ClockChange& change : changes_between(zone_, q_.shot_at, q_.dates))
            out["clock_changes"].push_back({{"date", site::iso_date(change.day)},
                                            {"utc_offset_before_s", change.before.count()},
                                            {"utc_offset_after_s", change.after.count()}});
        out["dates"] = Json::array();
        for (const ask::MatchedDate& date : a_.dates)
            out["dates"].push_back(of(date));
        out["by_lamp"] = a_.shot.lamp ? lamp() : Json(nullptr);
        return out;
    }

private:
    void put(Json& out, const std::string& name, Instant t) const {
        out[name + "_utc"] = site::iso_utc(t, 1);
        out[name + "_local"] = site::iso_local(t, zone_);
    }

    Json shot() const {
        const study::LoggedShot& s = q_.shot;
        const room::Room& room = *a_.dates_asked->location.room;
        Json out;
        out["line"] = s.line;
        out["name"] = or_null(s.name);
        put(out, "at", q_.shot_at);
        out["key"] = words::name(s.key);
        out["lamp"] = or_null(s.lamp);
        out["mark"] = room.marks[a_.shot.light.mark].name;
        out["camera"] =
            a_.shot.light.camera ? Json(room.cameras[*a_.shot.light.camera].name) : Json(nullptr);
        out["window"] = room.windows[a_.shot.light.window].name;
        out["azimuth_deg"] = rounded_turn(Angle::degrees(a_.shot.azimuth_deg), 5);
        out["apparent_altitude_deg"] = rounded(a_.shot.altitude_deg, 5);
        out["key_angle_deg"] = or_null(a_.shot.key_angle_deg, 5);
        out["coverage"] = rounded(a_.shot.light.coverage, 5);
        out["computed_lx"] = rounded(a_.shot.light.lx, 1);
        out["computed_kelvin"] = or_null(a_.shot.light.kelvin, 0);
        out["metered_lx"] = or_null(s.metered_lx, 2);
        out["stop"] = or_null(s.t_number, 2);
        out["cloth"] = s.cloth;
        out["note"] = or_null(s.note);
        return out;
    }

    Json of(const study::MatchMoment& m) const {
        Json out;
        put(out, "at", m.at);
        out["off_deg"] = rounded(m.off_deg, 5);
        out["azimuth_off_deg"] = rounded(m.azimuth_off_deg, 5);
        out["altitude_off_deg"] = rounded(m.altitude_off_deg, 5);
        out["patch_shift_m"] = rounded(m.shift_m, 5);
        out["patch_shift_right_m"] = rounded(m.shift_right_m, 5);
        out["patch_shift_up_m"] = rounded(m.shift_up_m, 5);
        return out;
    }

    Json of(const ask::MatchedDate& date) const {
        Json out;
        out["date"] = site::iso_date(date.match.date);
        out["spans"] = Json::array();
        for (const study::Span& span : date.match.spans) {
            Json one;
            put(one, "start", span.from);
            put(one, "end", span.to);
            out["spans"].push_back(std::move(one));
        }
        out["nearest"] = date.match.nearest ? of(*date.match.nearest) : Json(nullptr);
        if (date.match.nearest && date.change)
            out["nearest"].update({{"level_lx", rounded(date.change->lx, 1)},
                                   {"level_stops", rounded(date.change->stops, 4)},
                                   {"mired", or_null(date.change->mired, 2)},
                                   {"key_angle_deg", or_null(date.change->key_angle_deg, 5)}});
        out["out_of_hours"] =
            date.match.out_of_hours ? of(*date.match.out_of_hours) : Json(nullptr);
        return out;
    }

    Json lamp() const {
        const study::LampReport& report = *a_.shot.lamp;
        const study::StandPlace* place = report.stand.place();
        Json out;
        out["lamp"] = a_.shot.day->location.lamps[a_.shot.lamp_question.lamp].name;
        out["window"] = a_.shot.day->study().room().windows[report.wish.window].name;
        out["is_wanted_place"] = report.stand.wanted.is_reachable();
        out["off_deg"] = place && !report.stand.wanted.is_reachable()
                             ? rounded(report.stand.nearest_off_deg, 5)
                             : 0.0;
        out["stand"] = nullptr;
        if (!place) return out;
        out["stand"] = {
            {"at_m", {rounded(place->at.x, 5), rounded(place->at.y, 5), rounded(place->at.z, 5)}},
            {"height_above_ground_m", rounded(place->height_above_ground_m, 5)},
            {"off_wall_m", rounded(place->off_wall_m, 5)},
            {"along_wall_m", rounded(place->along_wall_m, 5)},
            {"distance_m", rounded(place->distance_m, 5)},
            {"coverage", rounded(place->coverage, 5)}};
        if (report.light)
            out["stand"].update({{"tilt_deg", rounded(report.light->tilt.in_degrees(), 5)},
                                 {"pan_deg", rounded(report.light->pan.in_degrees(), 5)},
                                 {"level_lx", rounded(report.light->level_lx, 1)}});
        return out;
    }

    const ask::MatchAnswer& a_;
    const MatchQuestion& q_;
    const site::Zone& zone_;
};

std::string number(const std::optional<double>& value, int decimals) {
    return value ? fmt::format("{:.{}f}", rounded(*value, decimals), decimals) : std::string{};
}

}  // namespace

Json json_of(const ask::MatchAnswer& answer, const MatchQuestion& q) {
    return MatchDocument{answer, q}.document();
}

std::string match_csv(const ask::MatchAnswer& answer, const MatchQuestion& q) {
    const site::Zone& zone = answer.dates_asked->location.site.zone;
    std::string out =
        "shot,date,agrees,start_local,end_local,nearest_local,off_deg,azimuth_off_deg,"
        "altitude_off_deg,patch_shift_m,level_stops,mired\r\n";
    for (const ask::MatchedDate& date : answer.dates) {
        const auto& m = date.match.nearest;
        const auto of = [&](double study::MatchMoment::*figure, int decimals) {
            return m ? number((*m).*figure, decimals) : std::string{};
        };
        const auto record = [&](const std::string& span) {
            out += fmt::format(
                "{},{},{},{},{},{},{},{},{},{},{}\r\n", csv_field(csv_text(q.shot.name)),
                site::iso_date(date.match.date), date.match.agrees() ? "yes" : "no", span,
                m ? site::iso_local(m->at, zone) : "", of(&study::MatchMoment::off_deg, 3),
                of(&study::MatchMoment::azimuth_off_deg, 3),
                of(&study::MatchMoment::altitude_off_deg, 3), of(&study::MatchMoment::shift_m, 3),
                number(date.change ? std::optional{date.change->stops} : std::nullopt, 2),
                number(date.change ? date.change->mired : std::nullopt, 0));
        };
        for (const study::Span& span : date.match.spans)
            record(fmt::format("{},{}", site::iso_local(span.from, zone),
                               site::iso_local(span.to, zone)));
        if (!date.match.agrees()) record(",");
    }
    return out;
}

}  // namespace keyhour::tell
