#include "command_log.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <memory>
#include <ostream>

#include "clock_time.hpp"
#include "date_options.hpp"
#include "exposure_options.hpp"
#include "file/append_file.hpp"
#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/quoted.hpp"
#include "length_option.hpp"
#include "logged_shot.hpp"
#include "numbers.hpp"
#include "read/light_log.hpp"
#include "room_options.hpp"
#include "tell/light_log_line.hpp"
#include "tell/shot_words.hpp"
#include "text.hpp"
#include "words/shot_names.hpp"
#include "words/shown.hpp"

namespace keyhour::cli {
namespace {

constexpr std::size_t longest_text = 400;

struct LogOptions {
    RoomOptions room;  // its file alone
    std::string log, date, at, name, mark, camera, window, key, lamp, lamp_at, lamp_height, stop,
        note;
    std::vector<std::string> cloth;
    std::optional<double> lux, ev;
};

/// Text of the user's as a log keeps it.
Answer<std::string> one_line(const char* option, const std::string& text) {
    const std::string kept = words::escaped(text);
    if (kept.size() > longest_text)
        return usage_failure(fmt::format("{}: accepted: up to {} bytes", option, longest_text));
    return kept;
}

/// The location's file as seen from the log's folder.
std::string seen_from(const std::string& log, const std::string& location) {
    namespace fs = std::filesystem;
    std::error_code error;
    const fs::path folder = fs::weakly_canonical(fs::absolute(log, error).parent_path(), error);
    const fs::path file = fs::weakly_canonical(fs::absolute(location, error), error);
    const fs::path beside = file.lexically_relative(folder);
    return beside.empty() ? file.string() : beside.string();
}

/// Makes a shot of the options, asking the studies for what they know.
class ShotLogger {
public:
    ShotLogger(const LogOptions& options, const site::Location& location, const site::Recce& recce)
        : o_{options}, location_{location}, room_{*location.room}, recce_{recce} {}

    /// What is logged.
    Answer<study::LoggedShot> shot() {
        for (const auto step : {&ShotLogger::texts, &ShotLogger::when, &ShotLogger::who,
                                &ShotLogger::lamp, &ShotLogger::levels, &ShotLogger::light})
            if (auto wrong = (this->*step)()) return tl::unexpected{*std::move(wrong)};
        shot_.place = seen_from(o_.log, o_.room.location);
        shot_.file_digest = digest_of_file(o_.room.location);
        return shot_;
    }

    [[nodiscard]] Instant at() const { return at_; }
    [[nodiscard]] const std::string& level() const { return level_; }
    /// By the file the key reached nothing of the mark.
    [[nodiscard]] bool is_dark() const { return is_dark_; }

private:
    using Wrong = std::optional<Failure>;
    static Wrong usage(std::string message) { return Failure{wrong_usage, std::move(message)}; }

    Wrong texts() {
        const auto name = one_line("--shot", o_.name), note = one_line("--note", o_.note);
        if (!name) return name.error();
        if (!note) return note.error();
        shot_.name = *name;
        shot_.note = *note;
        for (const std::string& cloth : o_.cloth) {
            const auto kept = one_line("--cloth", cloth);
            if (!kept) return kept.error();
            shot_.cloth.push_back(*kept);
        }
        return {};
    }

    Wrong when() {
        const site::Zone& zone = location_.site.zone;
        site::LocalDate day = site::local_date(now(), zone);
        if (!o_.date.empty()) {
            const auto read = site::read_date(o_.date);
            if (!read) return usage("--date: " + read.error());
            day = *read;
            if (o_.at.empty()) return usage("--date is that of --at: give both");
        }
        at_ = Instant::from_unix_s(std::floor(now().unix_s()));
        if (!o_.at.empty()) {
            const auto time = read_clock_time(o_.at);
            if (!time) return usage("--at: " + time.error());
            const auto at = time->on(day, zone);
            if (!at) return usage("--at: " + at.error());
            at_ = *at;
        }
        shot_.at = site::iso_local(at_, zone);
        return {};
    }

    Wrong who() {
        if (room_.marks.empty())
            return Failure{bad_data, "the room has no [[mark]] for the light to fall on"};
        shot_.mark = o_.mark;
        if (o_.mark.empty() && room_.marks.size() > 1) {
            std::string names;
            for (const room::Mark& mark : room_.marks)
                names +=
                    fmt::format("{}\"{}\"", names.empty() ? "" : ", ", words::shown(mark.name));
            return usage("--mark: the room has several; accepted: " + names);
        }
        if (o_.mark.empty()) shot_.mark = room_.marks.front().name;
        shot_.camera = o_.camera;
        shot_.window = o_.window;
        std::size_t aiming = 0;
        for (const room::Camera& camera : room_.cameras)
            if (room_.marks[camera.aims_at].name == shot_.mark && ++aiming == 1 &&
                o_.camera.empty())
                shot_.camera = camera.name;
        if (aiming > 1 && o_.camera.empty()) shot_.camera.clear();
        return {};
    }

    Wrong lamp() {
        if (o_.lamp.empty() && !(o_.lamp_at.empty() && o_.lamp_height.empty()))
            return usage("--lamp-at and --lamp-height go with --lamp NAME");
        if (!o_.key.empty()) {
            const auto& known = words::shot_key_names;
            const auto at = std::ranges::find(known, o_.key);
            if (at == known.end())
                return usage(
                    fmt::format("--key {}: accepted: sun, lamp or sky", site::quoted(o_.key)));
            shot_.key = static_cast<study::ShotKey>(at - known.begin());
            if (shot_.key != study::ShotKey::lamp && !o_.lamp.empty())
                return usage(fmt::format("--key {} and --lamp: give one of them", o_.key));
        } else if (!o_.lamp.empty()) {
            shot_.key = study::ShotKey::lamp;
        }
        shot_.lamp = o_.lamp;
        if (!o_.lamp_at.empty()) {
            const auto comma = o_.lamp_at.find(',');
            if (comma == std::string::npos)
                return usage("--lamp-at: accepted: x,y of the plan, as 1.8,-3.2");
            const auto x = read_length_option("--lamp-at", o_.lamp_at.substr(0, comma), -1e4, 1e4);
            if (!x) return x.error();
            const auto y = read_length_option("--lamp-at", o_.lamp_at.substr(comma + 1), -1e4, 1e4);
            if (!y) return y.error();
            shot_.lamp_at = room::Point2{*x, *y};
        }
        if (o_.lamp_height.empty()) return {};
        const auto height = read_length_option("--lamp-height", o_.lamp_height, 0, 200);
        if (!height) return height.error();
        shot_.lamp_height_m = *height;
        return {};
    }

    Wrong levels() {
        if (o_.lux && o_.ev) return usage("--lux and --ev: give one of them");
        if (o_.lux && !(*o_.lux >= 0.01 && *o_.lux <= 200000))
            return usage("--lux: accepted: 0.01 to 200000 lx");
        if (o_.ev && !(*o_.ev >= -8 && *o_.ev <= 17))
            return usage("--ev: accepted: -8 to 17, at ISO 100");
        if (o_.lux) level_ = fmt::format("lux = {:.6g}", *o_.lux);
        if (o_.ev) level_ = fmt::format("ev = {:.4g}", *o_.ev);
        if (o_.stop.empty()) return {};
        const auto stop = read_stop(o_.stop);
        if (!stop)
            return usage(fmt::format("--stop {}: accepted: a T number, as T4 or \"T2.8 1/3\"",
                                     site::quoted(o_.stop)));
        shot_.t_number = stop;
        return {};
    }

    Wrong light() {
        auto request = request_of(shot_, at_, location_, "--");
        if (!request) return request.error();
        const auto answer = ask::shot(location_, recce_, *request);
        const bool asked = !o_.key.empty() || !o_.lamp.empty() || !o_.window.empty();
        if (!answer && answer.error() == ask::NoMatch::sun_was_down && !asked) {
            shot_.key = study::ShotKey::sky;  // night or dusk, and no lamp is named
            return {};
        }
        if (!answer && answer.error() == ask::NoMatch::no_direction) return {};
        if (!answer && answer.error() == ask::NoMatch::no_window)
            return usage(fmt::format(
                "by the location file no sun reaches {} at {}; if it does, name its --window; else "
                "--lamp, or --key sky",
                words::shown(shot_.mark), words::minute_down(at_, location_.site.zone)));
        if (!answer && answer.error() == ask::NoMatch::no_lamp_place)
            return usage(
                "--lamp: give its place on the plan, --lamp-at X,Y, and --lamp-height above "
                "the ground; or at and height_m of the lamp in the file");
        if (!answer) return usage(in_words(answer.error()));
        shot_.window = room_.windows[answer->light.window].name;
        shot_.azimuth_deg = answer->azimuth_deg;
        shot_.altitude_deg = answer->altitude_deg;
        shot_.computed_lx = answer->light.lx;
        shot_.computed_kelvin = answer->light.kelvin;
        if (shot_.key == study::ShotKey::lamp) {
            shot_.lamp_at = request->lamp_at;
            shot_.lamp_height_m = request->lamp_height_m;
        }
        is_dark_ = !answer->is_lit;
        return {};
    }

    const LogOptions& o_;
    const site::Location& location_;
    const room::Room& room_;
    const site::Recce& recce_;
    study::LoggedShot shot_;
    Instant at_;
    std::string level_;
    bool is_dark_ = false;
};

int answer_log(const LogOptions& options, std::ostream& out, std::ostream& err) {
    const auto location = options.room.read(Names::raw);
    if (!location) return report(location.error(), err);
    const auto recce = options.room.recce();
    if (!recce) return report(recce.error(), err);
    ShotLogger logger{options, *location, *recce};
    auto shot = logger.shot();
    if (!shot) return report(shot.error(), err);
    const std::string line = tell::light_log_line(*shot, logger.level());
    const auto done =
        file::append_to(options.log, read::largest_log_bytes,
                        [&](std::string_view before) -> tl::expected<std::string, std::string> {
                            auto text = read::next_log_line(before, options.log, line);
                            if (text)
                                shot->line = static_cast<int>(std::ranges::count(before, '\n') +
                                                              std::ranges::count(*text, '\n'));
                            return text;
                        });
    if (!done) return report({bad_data, done.error()}, err);
    if (options.lux || options.ev) shot->metered_lx = tell::metered_lx(options.lux, options.ev);
    print(out, tell::logged_page(*shot, words::shown(options.log), logger.at(), location->site.zone,
                                 logger.is_dark()));
    return answered;
}

}  // namespace

void offer_log(CommandLine& line, Session& session) {
    auto options = std::make_shared<LogOptions>();
    LogOptions& o = *options;
    Options* command = line.add_command("log", "add a shot's light to a log, one line a shot");
    command->add_option("location", o.room.location, "location file (TOML) with a room")
        ->type_name("FILE")
        ->required();
    command->add_option("-o", o.log, "the light log; begun where there is none")
        ->type_name("LOG")
        ->required();
    const auto text = [&](const char* name, std::string& value, const char* type,
                          const char* what) {
        command->add_option(name, value, what)->type_name(type);
    };
    text("--shot", o.name, "NAME", "what you call it");
    text("--at", o.at, "HH:MM", "local time (default: now)");
    text("--date", o.date, "DATE", "of --at (default: today)");
    text("--mark", o.mark, "NAME", "default: the room's only one");
    text("--camera", o.camera, "NAME", "default: the only one that aims at the mark");
    text("--window", o.window, "NAME", "of the key (default: by the sun, or the lamp's place)");
    text("--key", o.key, "WHAT", "sun, lamp or sky (neither; default: by the hour)");
    text("--lamp", o.lamp, "NAME", "the lamp outside that is the key");
    text("--lamp-at", o.lamp_at, "X,Y", "where it stands on the plan (default: the file's)");
    text("--lamp-height", o.lamp_height, "LENGTH", "of its middle above the ground");
    command->add_option("--lux", o.lux, "metered at the mark")->type_name("LX");
    command->add_option("--ev", o.ev, "the same as an exposure value at ISO 100")->type_name("EV");
    text("--stop", o.stop, "STOP", "of the lens: T4");
    command->add_option("--cloth", o.cloth, "windows in which black cloth hung")
        ->type_name("NAME,...")
        ->delimiter(',');
    text("--note", o.note, "TEXT", "anything else");
    command->footer(
        "example:\n"
        "  keyhour log locations/tallow-lane.toml --date 2026-02-17 --at 13:42 \\\n"
        "    --shot \"hands 1\" --lux 52000 --stop T8 -o day.log");
    command->callback([options, &session] {
        session.exit_code = answer_log(*options, session.out, session.err);
    });
}

}  // namespace keyhour::cli
