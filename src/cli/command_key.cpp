#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "command.hpp"
#include "draw_option.hpp"
#include "exposure_options.hpp"
#include "keyhour/ask/key.hpp"
#include "keyhour/site/dates.hpp"
#include "lamp_key.hpp"
#include "numbers.hpp"
#include "overlap.hpp"
#include "room_options.hpp"
#include "show_option.hpp"
#include "tell/doubt_documents.hpp"
#include "tell/doubt_lines.hpp"
#include "tell/forge_lines.hpp"
#include "tell/key_page.hpp"
#include "tell/light_documents.hpp"
#include "tell/meter_lines.hpp"
#include "tell/room_documents.hpp"
#include "text.hpp"
#include "words/length.hpp"

namespace keyhour::cli {
namespace {

struct KeyRequest {
    RoomOptions room;
    DateOptions dates;
    ExposureOptions exposure;
    DrawOption draw;
    std::string by = "sun";
    std::string mark, camera, window;
    std::optional<double> coverage_percent, lock_min;
    std::string key_angle, altitude, hours;
    std::optional<double> near_m;
    ShowOption show{{tell::Detail::levels, tell::Detail::doubt, tell::Detail::haze,
                     tell::Detail::misses, tell::Detail::readback}};
    bool as_is = false, all = false, json = false, no_light = false, line = false;
    bool no_doubt = false, why_unsure = false, nights = false;
    std::optional<int> members;
    std::optional<std::uint64_t> seed;
};

/// Rows of a range's table unless all are asked for.
constexpr std::size_t usual_rows = 20;
constexpr double usual_near_m = 1.5;

// --- what was asked -------------------------------------------------------------------------

template <class Things>
Answer<std::optional<std::string>> one_of(const char* option, const std::string& asked,
                                          const Things& things) {
    const auto at = index_of(option, asked, things);
    if (!at) return tl::unexpected{at.error()};
    return *at ? std::optional{things[**at].name} : std::nullopt;
}

/// Options that say nothing to the question asked.
std::optional<Failure> misplaced(const KeyRequest& request) {
    const bool by_sun = request.by == "sun";
    if (!by_sun && request.by != "lamp")
        return Failure{wrong_usage, "--by \"" + request.by + "\": accepted: sun, lamp"};
    if (request.line && (request.json || request.draw.draw))
        return Failure{wrong_usage, "--line is a message: leave out --json and --draw"};
    const char* option = nullptr;
    if (by_sun && request.lock_min) option = "--lock";
    if (by_sun && !request.hours.empty()) option = "--hours";
    if (by_sun && request.nights) option = "--nights";
    if (option) return Failure{wrong_usage, std::string{option} + " goes with --by lamp"};
    if (request.no_light && request.exposure.is_given())
        return Failure{wrong_usage,
                       "--no-light leaves out what the options of camera and meter ask for: give "
                       "one or the other"};
    if (!by_sun && request.no_light) option = "--no-light";
    if (!by_sun && request.exposure.is_given()) option = "the exposure of the key (--stop, --iso)";
    if (!by_sun && request.coverage_percent) option = "--coverage";
    if (!by_sun && request.near_m) option = "--near";
    if (!by_sun && !request.key_angle.empty()) option = "--key-angle";
    if (!by_sun && !request.altitude.empty()) option = "--altitude";
    if (!by_sun && request.no_doubt) option = "--no-doubt";
    if (!by_sun && request.why_unsure) option = "--why-unsure";
    if (!by_sun && request.members) option = "--members";
    if (!by_sun && request.seed) option = "--seed";
    if (option)
        return Failure{wrong_usage, std::string{option} + " is about the sun: leave out --by lamp"};
    if (request.nights && !request.hours.empty())
        return Failure{wrong_usage, "--nights asks for every hour: leave out --hours"};
    if (request.no_doubt && (request.why_unsure || request.members || request.seed))
        return Failure{wrong_usage,
                       "--no-doubt leaves out what --why-unsure, --members and --seed ask for"};
    return std::nullopt;
}

struct Wanted {
    study::KeySettings key;
    study::LampSettings lamp;
    study::CameraSetting shot;
    study::EnsembleSettings ensemble;
    tell::Details show;
};

/// By lamp: what the options leave open is as the location plans its lock, else the usual.
std::optional<Failure> settle_lamp(const KeyRequest& request, const site::Location& location,
                                   study::LampSettings& lamp) {
    const room::Room& room = *location.room;
    const site::LockPlan plan = location.lock.value_or(site::LockPlan{});
    const auto taken = [](std::optional<std::string>& name, const auto& things,
                          const std::optional<std::size_t>& planned) {
        if (!name && planned) name = things[*planned].name;
    };
    // Another mark or camera than the planned one leaves what was planned for that.
    const bool same_mark = !lamp.mark || !plan.mark || *lamp.mark == room.marks[*plan.mark].name;
    const bool same_camera =
        !lamp.camera || !plan.camera || *lamp.camera == room.cameras[*plan.camera].name;
    if (same_mark && same_camera) {
        taken(lamp.mark, room.marks, plan.mark);
        taken(lamp.camera, room.cameras, plan.camera);
        taken(lamp.window, room.windows, plan.window);
    }
    const double usual_min =
        static_cast<double>(plan.length.value_or(std::chrono::seconds{site::usual_lock}).count()) /
        60;
    const double lock_min = request.lock_min.value_or(usual_min);
    if (!(lock_min >= 1 && lock_min <= 1440))
        return Failure{wrong_usage, fmt::format("--lock of {}: accepted: 1 minute to 24 hours",
                                                in_minutes(Seconds{60 * lock_min}))};
    lamp.lock = Seconds{60 * lock_min};
    if (request.nights) return std::nullopt;
    const site::WorkingHours usual = plan.hours.value_or(site::usual_working_hours);
    lamp.earliest = usual.from;
    lamp.latest = usual.to;
    if (!request.hours.empty()) {
        const auto hours = read_hours(request.hours);
        if (!hours) return Failure{wrong_usage, "--hours: " + hours.error()};
        lamp.earliest = hours->first;
        lamp.latest = hours->second;
    }
    if (const Seconds hours = *lamp.latest - *lamp.earliest; lamp.lock > hours)
        return Failure{
            wrong_usage,
            fmt::format("a lock of {:g} minutes is longer than the hours, {:g} minutes: --hours "
                        "06:00,23:00 looks in more of the day, --nights in all of it",
                        lock_min, hours.count() / 60)};
    return std::nullopt;
}

Answer<Wanted> settings(const KeyRequest& request, const site::Location& location,
                        site::Units units) {
    Wanted w;
    const room::Room& room = *location.room;
    const auto mark = one_of("--mark", request.mark, room.marks);
    const auto camera = one_of("--camera", request.camera, room.cameras);
    const auto window = one_of("--window", request.window, room.windows);
    for (const auto* name : {&mark, &camera, &window})
        if (!*name) return tl::unexpected{name->error()};
    auto shot = request.exposure.read();
    if (!shot) return tl::unexpected{shot.error()};
    w.shot = *std::move(shot);
    const double percent = request.coverage_percent.value_or(w.key.coverage * 100);
    if (!(percent >= 1 && percent <= 100))
        return usage_failure(
            fmt::format("--coverage {:g}: accepted: 1 to 100 percent of the mark", percent));
    const double near_m = request.near_m.value_or(usual_near_m);
    if (!(near_m >= 0 && near_m <= 100))
        return usage_failure(
            units == site::Units::feet
                ? fmt::format("--near {}: accepted: 0 to 328 ft", words::length(near_m, units))
                : fmt::format("--near {:g}: accepted: 0 to 100 metres", near_m));
    w.key.coverage = percent / 100;
    if (!request.key_angle.empty()) {
        const auto range = read_pair(request.key_angle, 0, 180);
        if (!range) return usage_failure("--key-angle: " + range.error());
        std::copy(range->begin(), range->end(), w.key.key_angle_deg);
    }
    if (!request.altitude.empty()) {
        const auto range = read_pair(request.altitude, 0, 90);
        if (!range) return usage_failure("--altitude: " + range.error());
        std::copy(range->begin(), range->end(), w.key.altitude_deg);
    }
    w.key.near_m = near_m;
    w.key.as_is = w.lamp.as_is = request.as_is;
    w.key.mark = w.lamp.mark = *mark;
    w.key.camera = w.lamp.camera = *camera;
    w.key.window = w.lamp.window = *window;
    if (request.by == "lamp")
        if (auto failure = settle_lamp(request, location, w.lamp)) return tl::unexpected{*failure};
    const auto show = request.show.read();
    if (!show) return tl::unexpected{show.error()};
    w.show = *show;
    if (request.members) w.ensemble.members = *request.members;
    if (request.seed) w.ensemble.seed = *request.seed;
    return w;
}

// --- by the sun ---------------------------------------------------------------------------------

/// What the answer must hold, so that what was asked for can be told.
ask::KeyRequest asked_of(const KeyRequest& request, const RoomQuestion& q, const Wanted& wanted) {
    ask::KeyRequest asked{wanted.key, wanted.shot, wanted.ensemble, {}, false, request.why_unsure};
    // A table of a range shows the best alone.
    if (!request.json && !request.all && q.dates.is_range) asked.most = usual_rows;
    asked.doubts = !request.no_doubt && !request.line;
    return asked;
}

tell::Json misses_json(const ask::KeyAnswer& answer, const study::RoomStudy& study) {
    tell::Json list = tell::Json::array();
    for (const study::NearestMiss& miss : answer.misses)
        list.push_back(tell::json_of(miss, study));
    return list;
}

tell::Json dark_json(const std::vector<ask::DarkKey>& dark, const study::RoomStudy& study) {
    tell::Json list = tell::Json::array();
    for (const ask::DarkKey& d : dark) {
        tell::Json j = tell::json_of(d.interval, study);
        tell::Json brief;
        for (const char* name : {"mark", "camera", "window", "start_utc", "end_utc", "hold_min"})
            brief[name] = j[name];
        brief["missing_stops"] = tell::rounded(d.missing_stops, 2);
        list.push_back(std::move(brief));
    }
    return list;
}

/// Of those that start on the date.
tell::Json together_json(const RoomQuestion& q, const ask::KeyAnswer& answer,
                         site::LocalDate date) {
    tell::Json list = tell::Json::array();
    for (const study::Together& t : answer.together)
        if (site::local_date(t.span.from, q.location.site.zone) == date)
            list.push_back(tell::json_of(t, q.study()));
    return list;
}

tell::Json interval_json(const study::KeyInterval& k, const study::RoomStudy& study,
                         const study::CameraSetting& camera, ask::IntervalLight* light) {
    tell::Json j = tell::json_of(k, study);
    if (!light) return j;
    const auto told = light->of(k);
    tell::add_light(j, told ? &*told : nullptr, camera, study.room());
    const study::FoundInRoom* found = study.found();
    if (!told || !found) return j;
    const study::LightDrift& d = told->clear;
    j["forges"] = tell::json_of(found->forges(k.mark), study.room(), d.at_start.key_lx.likely,
                                d.at_end.key_lx.likely);
    j["meter_correction"] = tell::json_of(found->correction());
    return j;
}

/// @param request  what to tell of the doubt
tell::Json sun_json_head(const KeyRequest& request, const RoomQuestion& q,
                         const ask::KeyAnswer& answer, const Wanted& wanted) {
    tell::Json head = tell::start_document(q.location, q.read_back());
    head["by"] = "sun";
    if (wanted.shot.is_given) head["camera_setting"] = tell::json_of(wanted.shot);
    if (wanted.shot.wish) head["too_dark"] = dark_json(answer.dark, q.study());
    head["without"] = misses_json(answer, q.study());
    if (!request.no_doubt)
        head["ensemble"] = {{"members", wanted.ensemble.members}, {"seed", wanted.ensemble.seed}};
    if (request.why_unsure) {
        head["why_unsure"] = tell::Json::array();
        for (const study::InputEffect& effect : answer.why)
            head["why_unsure"].push_back(tell::json_of(effect, *q.location.room));
    }
    return head;
}

void write_sun_json(const RoomQuestion& q, const ask::KeyAnswer& answer,
                    const study::CameraSetting& camera, ask::IntervalLight* light,
                    const tell::Json& head, std::ostream& out) {
    std::vector<std::pair<site::LocalDate, std::size_t>> by_date;
    for (std::size_t i = 0; i < answer.intervals.size(); ++i)
        by_date.emplace_back(
            site::local_date(ask::start_of(answer.intervals[i]), q.location.site.zone), i);
    std::stable_sort(by_date.begin(), by_date.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    tell::DaysWriter document{out, head, q.dates.is_range};
    auto next = by_date.begin();
    for (site::LocalDate d = q.dates.first; d <= q.dates.last && out; d = site::next_day(d)) {
        tell::Json day;
        day["date"] = site::iso_date(d);
        day["intervals"] = tell::Json::array();
        for (; next != by_date.end() && next->first <= d; ++next) {
            const study::KeyInterval& k = answer.intervals[next->second];
            day["intervals"].push_back(interval_json(k, q.study(), camera, light));
            if (next->second < answer.doubts.size())
                tell::add_doubt(day["intervals"].back(), answer.doubts[next->second]);
        }
        if (tell::Json both = together_json(q, answer, d); !both.empty())
            day["together"] = std::move(both);
        document.add(day);
    }
    document.finish();
}

/// A bearing that no date of the year gives sun: what would explain it.
std::string reversed(const RoomQuestion& q, const ask::KeyAnswer& answer) {
    const auto any = [](const study::NearestMiss& miss) { return miss.at.has_value(); };
    if (!answer.intervals.empty() || std::ranges::any_of(answer.misses, any)) return {};
    return q.looks_reversed() ? tell::looks_reversed(*q.location.room) : std::string{};
}

/// @param light  null if its figures are not to be told
tell::KeyAnswer told_answer(const RoomQuestion& q, const Wanted& wanted,
                            const ask::KeyAnswer& answer, ask::IntervalLight* light,
                            const std::vector<study::InputEffect>* why) {
    tell::KeyAnswer told{q.location,
                         q.recce,
                         told_dates(q.dates),
                         std::span{answer.intervals}.first(answer.described),
                         answer.intervals.size(),
                         answer.doubts,
                         {},
                         {},
                         answer.together,
                         answer.misses,
                         wanted.shot,
                         answer.dark,
                         reversed(q, answer),
                         wanted.show,
                         {},
                         light ? q.study().found() : nullptr,
                         why};
    for (std::size_t i = 0; i < answer.described && light; ++i) {
        const study::KeyInterval& k = answer.intervals[i];
        if (!q.dates.is_range)
            told.lights.push_back(light->of(k));
        else if (wanted.shot.is_given)
            told.drifts.push_back(k.span ? std::optional{light->drift(k)} : std::nullopt);
    }
    if (wanted.show.has(tell::Detail::readback)) told.read_back = q.read_back(q.recce.units);
    return told;
}

int answer_by_sun(const KeyRequest& request, const RoomQuestion& q, const Wanted& wanted,
                  std::ostream& out) {
    const ask::KeyAnswer answer = ask::key(q, asked_of(request, q, wanted));
    ask::IntervalLight lights{q, wanted.key.camera};
    ask::IntervalLight* light = request.no_light || request.line ? nullptr : &lights;
    if (request.json) {
        write_sun_json(q, answer, wanted.shot, light, sun_json_head(request, q, answer, wanted),
                       out);
        return answered;
    }
    const tell::KeyAnswer page =
        told_answer(q, wanted, answer, light, request.why_unsure ? &answer.why : nullptr);
    if (request.line) {
        for (const std::string& line : tell::key_messages(page))
            out << line << '\n';
        return answered;
    }
    if (page.found_light)
        for (const std::string& question :
             tell::meter_questions(page.found_light->correction(), q.location.site.zone))
            print(out, {{"PLEASE CHECK: " + question}});
    print(out, tell::key_page(page));
    return answered;
}

LampKeyRequest by_lamp(const KeyRequest& request, const Wanted& wanted) {
    return {wanted.lamp,  overlap_of(request.room.location, request.room.what_if.changes()),
            request.all,  request.json,
            request.line, wanted.show};
}

int answer_key(const KeyRequest& request, std::ostream& out, std::ostream& err) {
    if (const auto failure = misplaced(request)) return report(*failure, err);
    const auto asked = ask_room(request.room, request.dates, names_for(request.json));
    if (!asked) return report(asked.error(), err);
    const RoomQuestion& q = **asked;
    if (q.location.room->marks.empty())
        return report({bad_data, request.room.location +
                                     ": the room has no [[mark]]; this question needs one"},
                      err);
    if (const auto failure = request.draw.misplaced(q.dates, request.json))
        return report(*failure, err);
    const auto wanted = settings(request, q.location, q.recce.units);
    if (!wanted) return report(wanted.error(), err);
    if (request.by == "lamp")
        if (const auto failure = no_lamp_answer(q, wanted->lamp)) return report(*failure, err);
    const int code = request.by == "sun" ? answer_by_sun(request, q, *wanted, out)
                                         : answer_by_lamp(q, by_lamp(request, *wanted), out);
    if (request.draw.draw) request.draw.print(out, q, wanted->key, {});
    return code;
}

void offer_key_options(Options& command, KeyRequest& r) {
    r.room.offer(command);
    r.dates.offer(command);
    r.draw.offer(command);
    const auto option = [&](const char* name, auto& value, const char* type, const char* text) {
        command.add_option(name, value, text)->type_name(type);
    };
    option("--by", r.by, "WHAT", "sun; or lamp: one outside, in spans free of sun");
    option("--mark", r.mark, "NAME", "only this mark");
    option("--camera", r.camera, "NAME", "only this camera");
    option("--window", r.window, "NAME", "only this window");
    option("--coverage", r.coverage_percent, "PERCENT",
           "of the mark that must be lit (default: 95)");
    option("--key-angle", r.key_angle, "LOW,HIGH", "degrees from the lens axis (default: 25,70)");
    option("--altitude", r.altitude, "LOW,HIGH", "degrees of the sun, apparent (default: 8,55)");
    option("--near", r.near_m, "M", "other sun this near needs a cover (default: 1.5)");
    command.add_flag("--as-is", r.as_is, "only what needs no cover");
    option("--lock", r.lock_min, "MIN", "by lamp: no light moves for so long (usual: 120)");
    option("--hours", r.hours, "FROM,TO", "by lamp: working hours (usual: 08:00,20:00)");
    command.add_flag("--nights", r.nights, "by lamp: at any hour, nights too");
    r.exposure.offer(command);
    r.show.offer(command);
    command.add_flag("--line", r.line, "one line a key, to be sent as a message");
    command.add_flag("--all", r.all, "all rows of a range, by lamp all windows");
    command.add_flag("--no-light", r.no_light, "leave out levels, ratio and colour");
    command.add_flag("--no-doubt", r.no_doubt, "leave out the holds at 90 % and 50 %");
    command.add_flag("--why-unsure", r.why_unsure, "rank what to measure better");
    constexpr int most_members = 65536;
    option("--members", r.members, "N", "of the ensemble of moved rooms (default: 64)");
    command.get_option("--members")->range(8, most_members);
    option("--seed", r.seed, "N", "of the ensemble: the same gives the same (default: 1)");
    command.add_flag("--json", r.json, "one JSON document instead of a table");
}

}  // namespace

void offer_key(CommandLine& line, Session& session) {
    auto request = std::make_shared<KeyRequest>();
    Options* command =
        line.add_command("key", "when a window gives a clean key, and how long it holds");
    offer_key_options(*command, *request);
    command->footer(
        "example:\n"
        "  keyhour key locations/tallow-lane.toml --date 2026-03-10\n"
        "  keyhour key locations/tallow-lane.toml --from 2026-02-01 --to 2026-03-31\n"
        "  keyhour key locations/tallow-lane.toml --date 2026-03-10 --by lamp --lock 180\n"
        "  keyhour key locations/tallow-lane.toml --date 2026-02-17 --stop T4 --iso 800\n"
        "  keyhour key locations/tallow-lane.toml --date 2026-03-10 --show levels,misses\n"
        "  keyhour key locations/tallow-lane.toml --date 2026-03-10 --why-unsure\n"
        "  keyhour key --position \"52N 0E\" --zone Europe/London --faces 225 \\\n"
        "    --north true --opening \"1.2 x 1.5 m\" --sill 0.9 --reveal 0.3 \\\n"
        "    --room \"6 x 6 m\" --mark-distance 2.5 --date 2026-03-10\n"
        "defaults of coverage, key angle and altitude: common practice, no source");
    command->callback([request, &session] {
        session.exit_code = answer_key(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
