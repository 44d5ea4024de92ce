#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>

#include "clock_time.hpp"
#include "command.hpp"
#include "draw_option.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/patch_doubt.hpp"
#include "keyhour/study/patch_light.hpp"
#include "light_text.hpp"
#include "room_options.hpp"
#include "site_options.hpp"
#include "tell/cautions.hpp"
#include "tell/room_documents.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

struct PatchRequest {
    RoomOptions room;
    DateOptions dates;
    DrawOption draw;
    std::string time;
    int step_min = 0;  // not given
    bool json = false, no_light = false, no_doubt = false;
};

/// The rooms of the ensemble, prepared once for each season.
class Bands {
public:
    explicit Bands(bool wanted) : wanted_{wanted} {}
    /// Null if no doubt is wanted.
    const std::vector<std::optional<double>>* of(const study::PatchInstant& instant,
                                                 const study::RoomStudy& study) {
        if (!wanted_) return nullptr;
        const auto& rooms = rooms_.try_emplace(&study, study).first->second;
        bands_m_ = rooms.edge_bands_m(instant);
        return &bands_m_;
    }

private:
    bool wanted_;
    std::map<const study::RoomStudy*, study::PatchEnsemble> rooms_;
    std::vector<std::optional<double>> bands_m_;
};

std::string band_words(const std::optional<double>& band_m) {
    if (!band_m) return "; may not be there at all";
    return fmt::format("; edge within {:.0f} cm", std::ceil(100 * *band_m));
}

constexpr int usual_step_min = 30;

Answer<std::vector<Instant>> instants(const PatchRequest& request, const RoomQuestion& q,
                                      site::LocalDate date) {
    std::vector<Instant> out;
    if (!request.time.empty()) {
        const auto time = read_clock_time(request.time);
        if (!time) return usage_failure("--time: " + time.error());
        const auto at = time->on(date, q.location.site.zone);
        if (!at) return usage_failure("--time: " + at.error());
        if (study::sun_is_up(q.study_on(date), *at)) out.push_back(*at);
        return out;
    }
    const Seconds step{60.0 * (request.step_min > 0 ? request.step_min : usual_step_min)};
    const Instant from = q.start_of(date), to = q.end_of(date);
    for (int i = 0; from + i * step < to; ++i) {
        const Instant t = from + i * step;
        if (study::sun_is_up(q.study_on(date), t)) out.push_back(t);
    }
    return out;
}

/// "corners 6.20 2.31, 6.90 2.40": an outline to chalk on the floor; on a wall with the height.
std::string corners(const std::vector<room::Point3>& ring, bool with_height) {
    std::string text = "corners ";
    for (std::size_t i = 0; i < ring.size(); ++i) {
        text += fmt::format("{}{:.2f} {:.2f}", i == 0 ? "" : ", ", ring[i].x, ring[i].y);
        if (with_height) text += fmt::format(" {:.2f}", ring[i].z);
    }
    return text;
}

/// Where a patch lies: on an object it has several sides, and no single middle.
void print_place(const room::Patch& patch, bool in_full, std::ostream& out) {
    if (patch.surface.kind == room::Surface::Kind::object) return;
    const room::Point3 c = patch.centroid;
    print_wrapped(out, fmt::format("its middle at x {:.2f} y {:.2f} z {:.2f}", c.x, c.y, c.z), 6,
                  8);
    for (const auto& ring : patch.outlines)
        if (in_full)
            print_wrapped(out, corners(ring, patch.surface.kind == room::Surface::Kind::wall), 6,
                          8);
}

std::string kelvin_text(const std::optional<double>& kelvin) {
    return kelvin ? fmt::format(" {:.0f} K", std::round(*kelvin / 100) * 100) : std::string{};
}

/// What each window gives a mark, the brightest first.
std::string by_window(const study::MarkLight& light, const room::Room& room) {
    std::vector<std::size_t> order;
    for (std::size_t w = 0; w < room.windows.size(); ++w)
        if (light.windows[w].total_lx() >= 1) order.push_back(w);
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return light.windows[a].total_lx() > light.windows[b].total_lx();
    });
    std::string text;
    for (const std::size_t w : order) {
        const study::WindowLight& l = light.windows[w];
        text += text.empty() ? "" : "; ";
        text += room.windows[w].name;
        if (l.cloth_lx > 0)
            text += " by its sheer " + level_text(l.cloth_lx);
        else
            text += (l.direct_lx > 0 ? " sun " + level_text(l.direct_lx) + "," : std::string{}) +
                    " sky and ground " + level_text(l.sky_lx + l.ground_lx);
    }
    return text.empty() ? "no window gives it a lux" : text;
}

void print_mark_light(const study::LitMark& at, const room::Mark& mark, const room::Room& room,
                      bool in_full, std::ostream& out) {
    const study::MarkLight& m = at.clear;
    std::string text =
        fmt::format("at {}: {} through {} (air alone: {} to {}){}; fill {}{}", mark.name,
                    level_text(m.key_lx.likely), room.windows[at.key_window].name,
                    level_text(m.key_lx.low), level_text(m.key_lx.high), kelvin_text(m.key_kelvin),
                    level_text(m.fill_lx.likely), kelvin_text(m.fill_kelvin));
    if (m.key_to_fill_stops)
        text += fmt::format(", key to fill {:.1f} stops", m.key_to_fill_stops->likely);
    print_wrapped(out, text, 2, 6);
    if (!in_full) return;
    print_wrapped(out, by_window(m, room), 6, 8);
    print_wrapped(
        out,
        fmt::format("through the same window with mean cloud {}, overcast {}",
                    level_text(at.mean_cloud_lx.likely), level_text(at.overcast_lx.likely)),
        6, 8);
}

void print_beams(const study::PatchLight& light, const room::Room& room, bool in_full,
                 std::ostream& out) {
    for (const study::BeamInHaze& beam : light.beams)
        if (in_full || beam.sun_in_lens)
            print_wrapped(out,
                          fmt::format("in haze, {}, {}: {}", room.windows[beam.window].name,
                                      room.cameras[beam.camera].name, haze_text(beam)),
                          2, 6);
}

/// "; 34 klx, 6.2 stops over an unlit wall"
std::string patch_level(const study::PatchLight* light, std::size_t i) {
    if (!light || !light->patches[i]) return {};
    const study::PatchContrast& c = *light->patches[i];
    return fmt::format("; {}, {:.1f} stops over an unlit wall", level_text(c.patch_lx), c.stops());
}

/// What is told of an instant's patches beside where they lie; null: not asked for.
struct BesidePatches {
    const study::PatchLight* light = nullptr;
    const std::vector<std::optional<double>>* bands_m = nullptr;
};

/// @param in_full  with the corners of every patch, and the light window by window
void print_instant(const study::PatchInstant& instant, const BesidePatches& beside,
                   const RoomQuestion& q, bool in_full, std::ostream& out) {
    const study::PatchLight* light = beside.light;
    const site::Zone& zone = q.location.site.zone;
    const room::Room& room = *q.location.room;
    fmt::print(out, "{} {}  sun towards {:.1f} {}, {:.1f} degrees high\n",
               site::whole_minutes(instant.at, zone), offset_at(instant.at, zone),
               instant.sun.azimuth.from_north.in_degrees(),
               site::compass_letters(instant.sun.azimuth),
               instant.sun.apparent_altitude.above_horizon.in_degrees());
    if (instant.patches.empty() && instant.coverages.empty())
        out << "  no direct sun in the room\n";
    for (std::size_t i = 0; i < instant.patches.size(); ++i) {
        const study::WindowPatch& p = instant.patches[i];
        print_wrapped(out,
                      fmt::format("{} through {}: {:.2f} m2, soft edge {:.1f} cm{}{}",
                                  room::words(p.patch.surface, room), room.windows[p.window].name,
                                  p.patch.area_m2, p.patch.edge_width_m * 100,
                                  beside.bands_m ? band_words((*beside.bands_m)[i]) : "",
                                  patch_level(light, i)),
                      2, 6);
        print_place(p.patch, in_full, out);
    }
    for (const study::MarkCoverage& c : instant.coverages)
        print_wrapped(out,
                      fmt::format("mark {}: {:.0f} % lit through {}", room.marks[c.mark].name,
                                  100 * c.fraction, room.windows[c.window].name),
                      2, 6);
    if (!light) return;
    for (std::size_t mark = 0; mark < room.marks.size(); ++mark)
        print_mark_light(light->marks[mark], room.marks[mark], room, in_full, out);
    print_beams(*light, room, in_full, out);
}

void print_light_meaning(bool in_full, std::ostream& out) {
    print_wrapped(out,
                  "Levels: clear sky, the brightest window as the key; air alone: one class "
                  "clearer to one hazier; fill: what the room gives back on average, good to a "
                  "factor 2.",
                  0, 0);
    if (in_full)
        print_wrapped(
            out,
            fmt::format("{}. Cloth and gel near lamps and in the sun of a lens grow hot. Local "
                        "codes and licensed practice decide.",
                        tell::haze_caution),
            0, 0);
}

/// The light of a date's season: a tree in leaf takes sky as well.
class SeasonLight {
public:
    const study::RoomLight& of(const study::RoomStudy& study) {
        return lights_.try_emplace(&study, study).first->second;
    }

private:
    std::map<const study::RoomStudy*, study::RoomLight> lights_;
};

std::string not_up(const PatchRequest& request) {
    if (request.time.empty()) return "  the sun is not up\n";
    return fmt::format("  the sun is not up at {} (24-hour clock)\n", request.time);
}

/// In place of the table: at the time or the steps asked for, else at whole hours.
int draw_patches(const PatchRequest& request, const RoomQuestion& q, std::ostream& out) {
    std::vector<Instant> hours;
    if (!request.time.empty() || request.step_min > 0) {
        const auto list = instants(request, q, q.dates.first);
        if (list) hours = *list;
    }
    print_read_back(q.read_back(), out);
    request.draw.print(out, q, {}, hours);
    return answered;
}

int answer_patch(const PatchRequest& request, std::ostream& out, std::ostream& err) {
    if (!request.time.empty() && request.step_min > 0)
        return report({wrong_usage, "--time and --step: give one of them"}, err);
    if (request.step_min < 0 || request.step_min > 1440)
        return report({wrong_usage, "--step: accepted: 1 to 1440 minutes"}, err);
    const auto asked = RoomQuestion::ask(request.room, request.dates, names_for(request.json));
    if (!asked) return report(asked.error(), err);
    const RoomQuestion& q = **asked;
    // A time that does not exist on some date is told before anything is written.
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && !request.time.empty();
         d = site::next_day(d))
        if (const auto list = instants(request, q, d); !list) return report(list.error(), err);

    if (const auto failure = request.draw.misplaced(q.dates, request.json))
        return report(*failure, err);
    if (request.draw.draw) return draw_patches(request, q, out);
    const auto lines = q.read_back();
    if (!request.json) print_read_back(lines, out);
    Bands bands{!request.no_doubt};
    tell::DaysWriter document{out, tell::start_document(q.location, lines), q.dates.is_range};
    SeasonLight season;
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d)) {
        const auto list = instants(request, q, d);
        if (!list) return report(list.error(), err);
        tell::Json day;
        day["date"] = site::iso_date(d);
        day["instants"] = tell::Json::array();
        if (!request.json) fmt::print(out, "{}\n", site::date_in_words(d));
        for (const Instant t : *list) {
            const study::RoomStudy& study = q.study_on(d);
            const auto instant = study::patches_at(study, t);
            std::optional<study::PatchLight> light;
            if (!request.no_light) light = study::patch_light(study, season.of(study), instant);
            const BesidePatches beside{light ? &*light : nullptr, bands.of(instant, study)};
            if (request.json)
                day["instants"].push_back(
                    tell::json_of(instant, study, beside.light, beside.bands_m));
            else
                print_instant(instant, beside, q, !request.time.empty(), out);
        }
        if (request.json)
            document.add(day);
        else
            out << (list->empty() ? not_up(request) : "") << '\n';
    }
    if (request.json) {
        document.finish();
        return answered;
    }
    print_wrapped(out,
                  fmt::format("x, y: metres of the plan; z: above the floor. Soft edge: square to "
                              "the ray.{}",
                              request.no_doubt ? ""
                                               : " Edge within: in 9 of 10 cases, the room with "
                                                 "every figure moved within its doubt (check "
                                                 "lists them)."),
                  0, 0);
    if (!request.no_light) print_light_meaning(!request.time.empty(), out);
    return answered;
}

}  // namespace

void offer_patch(CommandLine& line, Session& session) {
    auto request = std::make_shared<PatchRequest>();
    Options* command = line.add_command("patch", "where the sun falls in the room, step by step");
    request->room.offer(*command);
    request->dates.offer(*command);
    request->draw.offer(*command);
    command->add_option("--time", request->time, "only this local time")->type_name("HH:MM");
    command->add_option("--step", request->step_min, "minutes between instants (default: 30)")
        ->type_name("MIN");
    command->add_flag("--no-light", request->no_light, "leave out levels, ratio and colour");
    command->add_flag("--no-doubt", request->no_doubt, "leave out how far edges may be off");
    command->add_flag("--json", request->json, "one JSON document instead of a table");
    command->footer(
        "example:\n"
        "  keyhour patch locations/tallow-lane.toml --date 2026-03-10 --time 14:30");
    command->callback([request, &session] {
        session.exit_code = answer_patch(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
