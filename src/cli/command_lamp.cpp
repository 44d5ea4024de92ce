#include "command_lamp.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "clock_time.hpp"
#include "keyhour/ask/lamp.hpp"
#include "keyhour/site/dates.hpp"
#include "length_option.hpp"
#include "numbers.hpp"
#include "room_options.hpp"
#include "show_option.hpp"
#include "tell/forge_lines.hpp"
#include "tell/lamp_document.hpp"
#include "tell/lamp_page.hpp"
#include "text.hpp"
#include "units_option.hpp"

namespace keyhour::cli {
namespace {

constexpr double not_given = -1e9;

struct LampRequest {
    RoomOptions room;
    DateOptions dates;
    std::string lamp, window, mark, camera, like, at, light_from, fill, convention;
    std::string height, distance, ground_below, farthest;  // lengths as typed
    double height_m = not_given, distance_m = not_given, ground_below_m = not_given;
    double key_angle_deg = not_given, hold_min = not_given, ratio = not_given;
    double farthest_m = 15, alike_percent = 10, coverage_percent = 95;
    ShowOption show{{tell::Detail::levels, tell::Detail::doubt, tell::Detail::readback}};
    bool sun_key = false, json = false, line = false;
};

struct Limits {
    const char* option;
    double value, least, most;
    const char* unit;
};

/// Wrong numbers on the command line; nothing if all are right.
std::string wrong_number(const LampRequest& r) {
    for (const Limits& l : {Limits{"--key-angle", r.key_angle_deg, 0, 180, " degrees"},
                            {"--hold", r.hold_min, 1, 1440, " minutes"},
                            {"--ratio", r.ratio, 1, 10000, ", as in 4 for 4:1"},
                            {"--alike", r.alike_percent, 0.1, 100, " per cent"},
                            {"--coverage", r.coverage_percent, 1, 100, " per cent"}})
        if (l.value != not_given && !(l.value >= l.least && l.value <= l.most))
            return fmt::format("{} {:g}: accepted: {:g} to {:g}{}", l.option, l.value, l.least,
                               l.most, l.unit);
    return {};
}

/// Reads the lengths that were typed, in metres or with a unit.
std::optional<Failure> read_lengths(LampRequest& r) {
    struct Typed {
        const char* option;
        const std::string& text;
        double& metres;
        double least, most;
    };
    for (const Typed& t : {Typed{"--height", r.height, r.height_m, 0, 200},
                           {"--distance", r.distance, r.distance_m, 0.1, 20000},
                           {"--ground-below", r.ground_below, r.ground_below_m, -100, 1000},
                           {"--farthest", r.farthest, r.farthest_m, 1, 1000}}) {
        if (t.text.empty()) continue;
        const auto metres = read_length_option(t.option, t.text, t.least, t.most);
        if (!metres) return metres.error();
        t.metres = *metres;
    }
    return std::nullopt;
}

std::optional<double> given(double value) {
    return value == not_given ? std::nullopt : std::optional{value};
}

/// Index of a name among parts of the location.
template <class Parts>
Answer<std::size_t> find(const Parts& parts, const char* option, const std::string& name) {
    const auto at = index_of(option, name, parts);
    if (!at) return tl::unexpected{at.error()};
    return at->value_or(0);
}

constexpr const char* a_lamp =
    "[[lamp]]: add one, such as\n"
    "  [[lamp]]\n  name = \"key lamp\"\n  place = \"outside\"\n"
    "  sheet = { level_lx = 12000, at_m = 5, beam_deg = 24 }\n  face_diameter_m = 0.3\n"
    "  stand_max_m = 3.6";

/// A lamp at a place that can be aimed, by name or the first.
Answer<std::size_t> lamp_at(const site::Location& location, const char* option,
                            const std::string& name, site::Lamp::Place place) {
    const bool inside = place == site::Lamp::Place::inside;
    const auto fits = [&](const site::Lamp& lamp) {
        return lamp.place == place && !std::holds_alternative<site::Lumens>(lamp.photometry);
    };
    if (name.empty()) {
        for (std::size_t i = 0; i < location.lamps.size(); ++i)
            if (fits(location.lamps[i])) return i;
        return data_failure(
            fmt::format("the location has no {} {}", inside ? "inside" : "outside", a_lamp));
    }
    const auto found = find(location.lamps, option, name);
    if (!found || fits(location.lamps[*found])) return found;
    if (location.lamps[*found].place != place)
        return usage_failure(fmt::format("{} \"{}\" has place = \"{}\"; {}", option, name,
                                         inside ? "outside" : "inside",
                                         inside ? "a fill lamp stands inside"
                                                : "the key lamp stands outside; --fill names one "
                                                  "inside"));
    return usage_failure(
        fmt::format("{} \"{}\" is known by its lumens alone, as a lamp hung to "
                    "shine down; a lamp to be aimed needs photometry or a sheet",
                    option, name));
}

class LampAsker {
public:
    LampAsker(const LampRequest& request, const RoomQuestion& question)
        : r_{request}, asked_{question}, location_{question.location}, room_{*location_.room} {}

    Answer<study::LampQuestion> ask() {
        for (const auto step : {&LampAsker::lamp_and_mark, &LampAsker::direction,
                                &LampAsker::room_light, &LampAsker::fill})
            if (auto wrong = (this->*step)()) return tl::unexpected{*wrong};
        q_.distance_m = given(r_.distance_m);
        q_.ground_below_m = given(r_.ground_below_m);
        q_.farthest_m = r_.farthest_m;
        q_.alike_share = r_.alike_percent / 100;
        q_.coverage = r_.coverage_percent / 100;
        if (const auto hold = given(r_.hold_min)) q_.hold = Seconds{60 * *hold};
        return q_;
    }

private:
    using Wrong = std::optional<Failure>;
    static Wrong usage(std::string message) { return Failure{wrong_usage, std::move(message)}; }

    Wrong lamp_and_mark() {
        q_.sun_is_key = r_.sun_key;
        if (!r_.sun_key && r_.lamp.empty() && plan_.lamp) {
            q_.lamp = *plan_.lamp;
        } else if (!r_.sun_key) {
            const auto lamp = lamp_at(location_, "--lamp", r_.lamp, site::Lamp::Place::outside);
            if (!lamp) return lamp.error();
            q_.lamp = *lamp;
        }
        if (room_.marks.empty())
            return Failure{bad_data, "the room has no [[mark]] for the light to fall on"};
        if (!r_.mark.empty()) {
            const auto mark = find(room_.marks, "--mark", r_.mark);
            if (!mark) return mark.error();
            q_.mark = *mark;
        } else if (plan_.mark) {
            q_.mark = *plan_.mark;
        }
        const bool as_planned = q_.mark == plan_.mark.value_or(0);
        if (as_planned) q_.camera = plan_.camera;
        if (r_.window.empty() && as_planned && plan_.window) {
            q_.window = plan_.window;
        } else if (!r_.window.empty()) {
            const auto window = find(room_.windows, "--window", r_.window);
            if (!window) return window.error();
            q_.window = *window;
        } else {
            bool any = false;
            for (std::size_t w = 0; w < room_.windows.size(); ++w)
                any = any || asked_.study().scene().faces(w, q_.mark);
            if (!any)
                return Failure{bad_data, fmt::format("no window of the room faces mark \"{}\"",
                                                     room_.marks[q_.mark].name)};
        }
        return {};
    }

    Answer<Instant> instant(const char* option, const std::string& text) const {
        const auto time = read_clock_time(text);
        if (!time) return usage_failure(fmt::format("{}: {}", option, time.error()));
        const auto t = time->on(asked_.dates.first, location_.site.zone);
        if (!t) return usage_failure(fmt::format("{}: {}", option, t.error()));
        return *t;
    }

    Wrong direction() {
        const bool by_key = r_.key_angle_deg != not_given;
        if (!r_.like.empty() && by_key) return usage("--like and --key-angle: give one of them");
        if (!r_.like.empty()) return like_the_sun();
        if (r_.sun_key) return usage("--sun-key needs --like, the minute of that sun");
        if (by_key) return by_key_angle();
        const site::Lamp& lamp = location_.lamps[q_.lamp];
        if (lamp.at && lamp.height_m) return {};
        // Where the file plans a lock at a window, that says enough.
        if (plan_.window && q_.window) {
            q_.through_middle = true;
            return {};
        }
        return usage(
            fmt::format("from where should the light come? --like HH:MM, as the sun's does "
                        "then; --key-angle with --height; or at and height_m of lamp "
                        "\"{}\" in the file",
                        lamp.name));
    }

    Wrong like_the_sun() {
        const auto t = instant("--like", r_.like);
        if (!t) return t.error();
        if (asked_.study().path().at(*t).altitude_deg <= 0)
            return usage(fmt::format("--like {}: the sun is not up then on {}", r_.like,
                                     site::date_in_words(asked_.dates.first)));
        if (r_.height_m != not_given)
            return usage("--height goes with --key-angle; the sun's direction has its own");
        q_.like = *t;
        if (r_.sun_key && !q_.window) q_.window = ask::sunniest_window(asked_, q_.mark, *t);
        return {};
    }

    Wrong by_key_angle() {
        study::WantedKey key;
        key.key_angle_deg = r_.key_angle_deg;
        if (r_.height_m == not_given)
            return usage("--key-angle needs --height, the lamp's above the ground");
        key.height_m = r_.height_m;
        if (!r_.light_from.empty()) {
            const std::string& from = r_.light_from;
            const bool left = from == "left" || from == "the subject's left";
            const bool right = from == "right" || from == "the subject's right";
            if (!left && !right)
                return usage("--light-from \"" + r_.light_from +
                             "\": accepted: left or right, as the subject sees it");
            key.from_right = right;
        }
        const auto camera = camera_for_key();
        if (!camera) return camera.error();
        key.camera = *camera;
        q_.camera = *camera;
        q_.key = key;
        return {};
    }

    Answer<std::size_t> camera_for_key() const {
        const std::string& mark = room_.marks[q_.mark].name;
        if (!r_.camera.empty()) {
            const auto camera = find(room_.cameras, "--camera", r_.camera);
            if (camera && room_.cameras[*camera].aims_at != q_.mark)
                return usage_failure(
                    fmt::format("--camera \"{}\" does not aim at mark \"{}\"", r_.camera, mark));
            return camera;
        }
        if (q_.camera) return *q_.camera;
        if (const auto camera = asked_.study().cameras_of(q_.mark).front()) return *camera;
        return data_failure(
            fmt::format("no [[camera]] aims at mark \"{}\": there is no key angle", mark));
    }

    Wrong room_light() {
        if (r_.at.empty()) return {};
        const auto t = instant("--at", r_.at);
        if (!t) return t.error();
        q_.room_light_at = *t;
        return {};
    }

    Wrong fill() {
        if (r_.ratio == not_given) {
            if (r_.fill.empty() && r_.convention.empty() && !r_.sun_key) return {};
            return usage("a fill lamp needs --ratio, as in --ratio 4");
        }
        study::WantedFill wish;
        wish.ratio = r_.ratio;
        const auto lamp = lamp_at(location_, "--fill", r_.fill, site::Lamp::Place::inside);
        if (!lamp) return lamp.error();
        wish.lamp = *lamp;
        const auto is_one_of = [&](std::initializer_list<std::string_view> words) {
            return std::ranges::find(words, r_.convention) != words.end();
        };
        if (is_one_of({"key-plus-fill", "key plus fill to fill", "key plus fill:fill"}))
            wish.convention = light::RatioConvention::key_plus_fill_to_fill;
        else if (!is_one_of({"", "key", "key to fill", "key:fill"}))
            return usage("--convention \"" + r_.convention +
                         "\": accepted: key, for key to fill, or key-plus-fill, for key plus fill "
                         "to fill");
        if (wish.convention == light::RatioConvention::key_plus_fill_to_fill && wish.ratio <= 1)
            return usage("--ratio 1 as key plus fill to fill would be no key: accepted: above 1");
        q_.fill = wish;
        if (r_.sun_key) q_.lamp = wish.lamp;
        return {};
    }

    const LampRequest& r_;
    const RoomQuestion& asked_;
    const site::Location& location_;
    const room::Room& room_;
    site::LockPlan plan_ = location_.lock.value_or(site::LockPlan{});
    study::LampQuestion q_;
};

tell::Json lamp_document_of(const RoomQuestion& q, const ask::LampAnswer& answer) {
    const study::RoomStudy& study = q.study();
    tell::Json document = tell::start_document(q.location, q.read_back());
    document["date"] = site::iso_date(q.dates.first);
    document.update(tell::json_of(answer.report, answer.question, study));
    const double key_lx = answer.report.levels.key_lx;
    if (!answer.forges.empty())
        document["forges"] = tell::json_of(answer.forges, study.room(), key_lx, key_lx);
    return document;
}

void print_lamp_page(const RoomQuestion& q, const ask::LampAnswer& answer,
                     const tell::LampAnswer& told, std::ostream& out) {
    const double key_lx = answer.report.levels.key_lx;
    print(out, tell::opening(q.location, q.recce, told_dates(q.dates)));
    print(out, tell::lamp_page(told));
    for (const study::ForgeLight& f : answer.forges)
        print(out, {{tell::forge_text(f, *q.location.room, key_lx, key_lx)}});
    if (told.show.has(tell::Detail::readback))
        print(out, tell::paragraphs(q.read_back(q.recce.units)));
}

int answer_lamp(LampRequest request, std::ostream& out, std::ostream& err) {
    if (const auto failure = read_lengths(request)) return cli::report(*failure, err);
    if (const std::string wrong = wrong_number(request); !wrong.empty())
        return report({wrong_usage, wrong}, err);
    const auto asked = ask_room(request.room, request.dates, names_for(request.json));
    if (!asked) return report(asked.error(), err);
    const RoomQuestion& q = **asked;
    const auto wish = LampAsker{request, q}.ask();
    if (!wish) return report(wish.error(), err);
    const auto show = request.show.read();
    if (!show) return cli::report(show.error(), err);
    if (request.line && request.json)
        return cli::report({wrong_usage, "--line and --json: give one of them"}, err);
    const ask::LampAnswer answer = ask::lamp(q, *wish);
    const tell::LampAnswer told{answer.report, answer.question, q.study(), q.recce, *show};
    if (request.json)
        tell::write(out, lamp_document_of(q, answer));
    else if (request.line)
        out << tell::lamp_message(told) << '\n';
    else
        print_lamp_page(q, answer, told, out);
    return answered;
}

/// "4:1"
std::optional<double> over_one(const std::string& text) {
    constexpr std::string_view one = ":1";
    if (!text.ends_with(one)) return std::nullopt;
    const auto number = read_number(text.substr(0, text.size() - one.size()), {});
    return number ? std::optional{*number} : std::nullopt;
}

void offer_lamp_options(Options& command, LampRequest& r) {
    command.add_option("location", r.room.location, "location file (TOML) with a [[lamp]]")
        ->type_name("FILE")
        ->required();
    const auto text = [&](const char* name, std::string& value, const char* type,
                          const char* what) {
        return command.add_option(name, value, what)->type_name(type);
    };
    const auto number = [&](const char* name, double& value, const char* type, const char* what) {
        return command.add_option(name, value, what)->type_name(type);
    };
    text("--date", r.dates.date, "DATE", "of --like and --at (default: today)");
    text("--like", r.like, "HH:MM", "light from where the sun is then");
    number("--key-angle", r.key_angle_deg, "DEG", "or by a key angle, with --height");
    text("--height", r.height, "LENGTH", "of the lamp above the ground");
    text("--light-from", r.light_from, "SIDE", "left or right, as the subject sees it");
    text("--camera", r.camera, "NAME", "for the key angle (default: lock's, or mark's first)");
    text("--distance", r.distance, "LENGTH", "lamp to mark (default: as far as can be)");
    text("--farthest", r.farthest, "LENGTH", "look no farther (default: 15 m)");
    text("--ground-below", r.ground_below, "LENGTH", "the ground there, below the room's floor");
    text("--lamp", r.lamp, "NAME", "default: the lock's, or the first that can be aimed");
    text("--window", r.window, "NAME", "default: the file's lock, or where it goes best");
    text("--mark", r.mark, "NAME", "default: the file's lock, or the first");
    number("--coverage", r.coverage_percent, "PERCENT", "of the mark, wanted (default: 95)");
    number("--alike", r.alike_percent, "PERCENT", "how much wider than the sun's (default: 10)");
    text("--at", r.at, "HH:MM", "the room's own light at that time (default: dark)");
    number("--hold", r.hold_min, "MIN", "how long it must burn");
    number("--ratio", r.ratio, "N", "n:1, for a fill lamp inside")->also(over_one);
    text("--convention", r.convention, "WHICH", "key (key to fill, default) or key-plus-fill");
    text("--fill", r.fill, "NAME", "the fill lamp (default: the first inside)");
    offer_units(command, r.room.units);
    r.room.what_if.offer(command);
    r.show.offer(command);
    command.add_flag("--line", r.line, "one line, to be sent as a message");
    command.add_flag("--sun-key", r.sun_key, "the key is the sun at --like; only the fill");
    command.add_flag("--json", r.json, "one JSON document instead of a table");
}

}  // namespace

void offer_lamp(CommandLine& line, Session& session) {
    auto request = std::make_shared<LampRequest>();
    Options* command = line.add_command("lamp", "where a lamp must stand in place of the sun");
    offer_lamp_options(*command, *request);
    command->footer(
        "example:\n"
        "  keyhour lamp locations/tallow-lane.toml --date 2026-02-17 --like 13:30");
    command->callback([request, &session] {
        session.exit_code = answer_lamp(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
