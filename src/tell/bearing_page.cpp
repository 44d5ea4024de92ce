#include "tell/bearing_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/compass.hpp"
#include "keyhour/site/dates.hpp"
#include "tell/cautions.hpp"
#include "tell/observation_text.hpp"
#include "words/clock.hpp"
#include "words/display_width.hpp"
#include "words/length.hpp"

namespace keyhour::tell {
namespace {

using namespace study;

constexpr std::size_t most_proposals = 4;
/// Columns from which on a row of the table has a word for all that it tells.
constexpr std::size_t roomy = 80;
/// The doubt that people are told holds in 95 of 100 cases.
constexpr double normal_95 = 1.959964;

double true_degrees(Azimuth a) {
    return wrapped_turn(a.from_north).in_degrees();
}

double degrees_95(double sigma_deg) {
    return normal_95 * sigma_deg;
}

/// What people may have done to a clock that is so wrong; empty: nothing common.
const char* slip_in_words(const ClockTrial& trial) {
    switch (trial.kind) {
        case ClockTrial::Kind::other_offset:
            return trial.fast_s > 0 ? "summer time left on" : "summer time forgotten";
        case ClockTrial::Kind::hour:
            return "the next zone's time, or summer time";
        case ClockTrial::Kind::half_day:
            return "morning taken for afternoon";
        case ClockTrial::Kind::utc_for_local:
            return "a clock on UTC read as local time";
        case ClockTrial::Kind::local_for_utc:
            return "local time taken for UTC";
        case ClockTrial::Kind::right:
        case ClockTrial::Kind::half_hour:
        case ClockTrial::Kind::found:
            break;
    }
    return "";
}

std::string altitude_in_words(const Observation& o, const AltitudeCheck& check, site::Units units) {
    const auto& corner = std::get<PatchCorner>(o.what);
    const char* edge = corner.by_head ? "head" : "sill";
    std::string text = fmt::format(
        "its height: the sun {:.1f} degrees high, computed {:.1f}, "
        "give or take {:.1f}",
        check.measured_deg, check.sun_deg, check.sigma_deg);
    const std::string would_be =
        fmt::format("{} at {}, not {}", edge, words::length(check.edge_would_be_m, units),
                    words::length(check.edge_m, units));
    const std::string clock =
        check.clock_off_s ? fmt::format("the time {:.0f} min {}", std::abs(*check.clock_off_s) / 60,
                                        *check.clock_off_s < 0 ? "earlier" : "later")
                          : std::string{"no shift of the clock within two hours"};
    switch (check.culprit) {
        case Culprit::none:
            text += ": it fits";
            break;
        case Culprit::clock:
            text += fmt::format(": THE CLOCK must be wrong: {} mends height and bearing", clock);
            break;
        case Culprit::heights:
            text +=
                fmt::format(": THE WINDOW'S HEIGHTS must be wrong: {}; the bearing fits", would_be);
            break;
        case Culprit::clock_or_heights:
            text += fmt::format(": THE CLOCK OR THE WINDOW'S HEIGHTS must be wrong: {}, or {}",
                                clock, would_be);
            break;
        case Culprit::bearing_or_left:
            text += ": it fits, so THE BEARING, or the window's left or width, must be wrong";
            break;
        case Culprit::more_than_one:
            text += fmt::format(
                ": it does not fit, and neither clock nor heights alone mend it "
                "({}; {}): measure the corner again",
                clock, would_be);
            break;
    }
    return text;
}

std::string named(const std::vector<std::size_t>& which, const BearingQuestion& question,
                  const char* last) {
    std::string text;
    for (std::size_t i = 0; i < which.size(); ++i)
        text += (i == 0                  ? ""
                 : i + 1 == which.size() ? last
                                         : ", ") +
                question.observations[which[i]].name;
    return text;
}

/// "81 of 100", "fewer than 1 of 100".
std::string of_100(double chance) {
    const double n = 100 * chance;
    return n < 1 ? "fewer than 1 of 100" : fmt::format("{:.0f} of 100", n);
}

class Writer {
public:
    Writer(const BearingPage& page, std::size_t columns)
        : page_{page},
          report_{page.report},
          answer_{page.report.answer},
          room_{*page.location.room},
          wide_{columns >= roomy} {}

    Paragraphs written() {
        if (page_.shown.has(Detail::readback)) {
            for (const std::string& line : page_.read_back)
                say(line, 0, 4);
            line("");
        } else {
            say(place_line(), 0, 4);
        }
        if (report_.clock_fast_s.value_or(0) != 0)
            say(fmt::format("the clock was {}: times are put right",
                            clock_in_words(*report_.clock_fast_s)),
                0, 4);
        for (const std::string& question : page_.questions)
            if (!page_.shown.has(Detail::readback) || !is_read_back(question))
                say("please check: " + question, 0, 4);
        if (answer_.clock)
            add_undecided();
        else
            add_answer();
        line("");
        add_table();
        if (!answer_.clock) add_agreement();
        if (page_.shown.has(Detail::shifts)) add_trials();
        add_next();
        if (page_.shown.has(Detail::observations)) add_words();
        say(fmt::format("{} On a street or ladder local rules decide.", sun_caution), 0, 0);
        if (page_.shown.none()) say("more: --show " + page_.show_words, 0, 4);
        return std::move(out_);
    }

private:
    void say(const std::string& text, std::size_t indent, std::size_t after) {
        out_.push_back({text, indent, after});
    }
    void line(std::string text) { out_.push_back({std::move(text), 0, 0, true}); }

    [[nodiscard]] bool is_read_back(const std::string& question) const {
        return std::ranges::any_of(page_.read_back, [&](const std::string& line) {
            return line.find(question) != std::string::npos;
        });
    }

    [[nodiscard]] std::string place_line() const {
        const std::string& name = page_.location.site.name;
        const Observer& at = page_.location.site.observer;
        const double latitude = at.latitude.in_degrees(), longitude = at.longitude.in_degrees();
        std::string text = fmt::format("{}{}{:.4f} {} {:.4f} {}", name, name.empty() ? "" : ", ",
                                       std::abs(latitude), latitude < 0 ? "SOUTH" : "NORTH",
                                       std::abs(longitude), longitude < 0 ? "WEST" : "EAST");
        for (const Observation& o : report_.question.observations)
            if (const auto time = time_of(o))
                return text + ", clocks " + words::offset_at(time->at, page_.location.site.zone);
        return text;
    }

    [[nodiscard]] std::string in_file() const {
        const Azimuth stated = room::wall_faces(room_, answer_.wall);
        const double off =
            wrapped_half_turn(answer_.faces.from_north - stated.from_north).in_degrees();
        std::string text = fmt::format("{:.4g}, give or take {:.3g}", true_degrees(stated),
                                       room_.bearing.within.in_degrees());
        if (std::abs(off) > 90)
            text += ": THE FILE'S BEARING POINTS INTO THE ROOM, or these observations do";
        else if (std::abs(off) > room_.bearing.within.in_degrees() + answer_.within_95.in_degrees())
            text += ": MORE THAN ITS DOUBT AWAY";
        return text;
    }

    void add_answer() {
        say(fmt::format("{} faces {:.1f} true, give or take {:.1f}: looking out you look {}",
                        wall_name(room_.walls[answer_.wall]), true_degrees(answer_.faces),
                        answer_.within_95.in_degrees(), site::compass_letters(answer_.faces)),
            0, 4);
        if (answer_.other)
            say(fmt::format("OR {:.1f}: nothing observed says which way is out; the file's own "
                            "bearing decided. Look: {} or {}?",
                            true_degrees(*answer_.other), site::compass_words(answer_.faces),
                            site::compass_words(*answer_.other)),
                0, 4);
        say((report_.is_written ? "written into the file's [room] (was " : "for [room] (now ") +
                in_file() + ')',
            0, 4);
        line(report_.line);
    }

    /// The clock is one witness, and it may have been wrong.
    void add_undecided() {
        const ClockDoubt& c = *answer_.clock;
        const std::string off = clock_in_words(c.trial.fast_s);
        std::size_t timed = 0;
        for (const Observation& o : report_.question.observations)
            timed += time_of(o).has_value();
        say(fmt::format(
                "{} faces {:.1f} or {:.1f} true: NOT DECIDED. One clock timed {} of {}, and "
                "it may have been {}",
                wall_name(room_.walls[answer_.wall]), true_degrees(c.faces),
                true_degrees(c.if_right), timed, report_.question.observations.size(), off),
            0, 4);
        const char* slip = slip_in_words(c.trial);
        say(fmt::format("these agree if the clock was {}{}: {:.1f}, give or take {:.1f}{}", off,
                        *slip != '\0' ? fmt::format(" ({}?)", slip) : "", true_degrees(c.faces),
                        c.within_95.in_degrees(), set_aside(c.trial.set_aside)),
            0, 4);
        const ClockTrial* right = trial_of_right();
        say(fmt::format("if it was right: {:.1f}, give or take {:.1f}{}", true_degrees(c.if_right),
                        c.if_right_within_95.in_degrees(),
                        right != nullptr && !right->set_aside.empty()
                            ? set_aside(right->set_aside)
                            : std::string{", and they differ more than their doubts allow"}),
            0, 4);
        say("the file says " + in_file(), 0, 4);
        say(fmt::format(
                "to do: compare that clock with another, then say which: {}. Until then there is "
                "no "
                "line for the file",
                page_.observations_file.empty()
                    ? fmt::format("--clock \"{}\" or --clock right", off)
                    : fmt::format("clock = \"{}\" or \"right\" at the head of {} (or --clock)", off,
                                  page_.observations_file)),
            0, 4);
    }

    [[nodiscard]] const ClockTrial* trial_of_right() const {
        const auto at =
            std::ranges::find(answer_.clock_trials, ClockTrial::Kind::right, &ClockTrial::kind);
        return at == answer_.clock_trials.end() ? nullptr : &*at;
    }

    [[nodiscard]] std::string set_aside(const std::vector<std::size_t>& which) const {
        if (which.empty()) return "";
        return fmt::format("; {} {} not fit", named(which, report_.question, " and "),
                           which.size() == 1 ? "does" : "do");
    }

    /// A name in so many columns: cut, or filled with blanks.
    static std::string cell(const std::string& name, std::size_t width) {
        std::string text{words::first_columns(name, width)};
        const std::size_t taken = words::columns(text);
        return text + std::string(width - std::min(width, taken), ' ');
    }

    void add_table() {
        const std::string if_off =
            answer_.clock ? "if " + clock_in_words(answer_.clock->trial.fast_s) : "";
        if (wide_ && answer_.clock)
            line(fmt::format("each alone              faces  {:>18}  give or take", if_off));
        else if (wide_)
            line("each alone              faces  give or take differs by times its doubt");
        else if (answer_.clock)
            line(fmt::format("each alone       faces doubt if off"));
        else
            line("each alone       faces  doubt differs");
        for (std::size_t i = 0; i < answer_.results.size(); ++i)
            add_row(report_.question.observations[i], answer_.results[i]);
    }

    void add_row(const Observation& o, const ObservationResult& r) {
        const double doubt = degrees_95(r.residual.sigma_deg);
        const std::string name = cell(o.name, wide_ ? 22 : 15);
        if (answer_.clock) {
            const std::string moved =
                r.if_clock ? fmt::format("{:.1f}", true_degrees(*r.if_clock)) : std::string{"same"};
            if (wide_)
                line(fmt::format("{} {:>6.1f}  {:>18}  {:>12.1f}", name, true_degrees(r.faces),
                                 moved, doubt));
            else
                line(fmt::format("{} {:>6.1f} {:>5.1f} {:>6}", name, true_degrees(r.faces), doubt,
                                 moved));
        } else if (wide_) {
            line(fmt::format("{} {:>6.1f}  {:>12.1f} {:>+10.1f} {:>15.1f}{}", name,
                             true_degrees(r.faces), doubt, r.residual.residual_deg,
                             std::abs(r.residual.normalised) / normal_95,
                             r.residual.used ? "" : " set aside"));
        } else {
            line(fmt::format("{} {:>6.1f} {:>5.1f} {:>+6.1f}{}", name, true_degrees(r.faces), doubt,
                             r.residual.residual_deg, r.residual.used ? "" : " out"));
        }
        add_notes(o, r);
    }

    /// What is odd about one observation.
    void add_notes(const Observation& o, const ObservationResult& r) {
        if (r.or_faces)
            say(fmt::format("or {:.1f}: it does not say which way is out",
                            true_degrees(*r.or_faces)),
                4, 4);
        if (answer_.clock) return;  // its time is in doubt as a whole
        if (r.sun_behind_deg)
            say(fmt::format("the sun was {:.0f} degrees BEHIND {} then, at this bearing: is the "
                            "time right?",
                            *r.sun_behind_deg, wall_name(room_.walls[*wall_of(o, room_)])),
                4, 4);
        else if (r.sun_behind_in_file_deg)
            say(fmt::format("at the file's bearing the sun was {:.0f} degrees BEHIND {} then: "
                            "the time, the wall or the file is wrong",
                            *r.sun_behind_in_file_deg, wall_name(room_.walls[*wall_of(o, room_)])),
                4, 4);
        if (r.behind_skyline) say("the file's horizon hid the sun then: is the time right?", 4, 4);
        if (r.altitude &&
            (r.altitude->culprit != Culprit::none || page_.shown.has(Detail::observations)))
            say(altitude_in_words(o, *r.altitude, page_.units), 4, 4);
    }

    /// How well they agree, honestly.
    void add_agreement() {
        const CircleFit& fit = answer_.fit;
        std::string text = "do they agree? ";
        if (fit.freedom == 0) {
            text += fit.left_out.empty() ? "one observation: nothing checks it"
                                         : fmt::format(
                                               "{} {} NOT FIT; one is left, and nothing "
                                               "checks it",
                                               named(fit.left_out, report_.question, " and "),
                                               fit.left_out.size() == 1 ? "does" : "do");
            say(text, 0, 4);
            return;
        }
        text += fmt::format("{} ({} sound sets differ as much)",
                            fit.suspects.empty() && fit.widened <= 1 ? "yes" : "NO",
                            of_100(fit.chance));
        if (!fit.suspects.empty())
            text += fmt::format(": {} DOES NOT FIT; which can't be told, and all were used",
                                named(fit.suspects, report_.question, " or "));
        if (!fit.left_out.empty())
            text += fmt::format(", once {} {} set aside, which {} NOT FIT",
                                named(fit.left_out, report_.question, " and "),
                                fit.left_out.size() == 1 ? "is" : "are",
                                fit.left_out.size() == 1 ? "DOES" : "DO");
        if (fit.widened > 1)
            text += fmt::format(", so the doubt was made {:.1f} times as wide_", fit.widened);
        say(text, 0, 4);
    }

    /// Every state of the clock that was tried.
    void add_trials() {
        if (answer_.clock_trials.empty()) {
            say("no observation was timed by a clock, or it was said to be right", 0, 4);
            return;
        }
        const double from_y = wrapped_half_turn(room::wall_faces(room_, answer_.wall).from_north -
                                                room::plan_bearing(room_).from_north)
                                  .in_degrees();
        line("if the clock was    faces  give or take  do they agree?");
        for (const ClockTrial& t : answer_.clock_trials)
            say(fmt::format("{:<16}    {:>5.1f}  {:>12.1f}  {} in {}{}", clock_in_words(t.fast_s),
                            turn_deg(t.plan_deg + from_y), degrees_95(t.sigma_deg),
                            t.set_aside.empty() ? "all," : "the rest,", of_100(t.chance),
                            set_aside(t.set_aside)),
                0, 4);
    }

    [[nodiscard]] std::string proposal(const NextObservation& n) const {
        using Kind = NextObservation::Kind;
        const std::string at = site::whole_minutes(n.at, page_.location.site.zone);
        std::string what;
        if (n.kind == Kind::jamb_shadow)
            what = fmt::format("shadow of a jamb of {} on the floor, {} of it",
                               room_.windows[n.index].name,
                               words::rough_length(n.shadow_m, page_.units));
        else if (n.kind == Kind::plumb_line)
            what = fmt::format("shadow of a plumb line on level ground by {}, {} of it",
                               wall_name(room_.walls[n.index]),
                               words::rough_length(n.shadow_m, page_.units));
        else
            what = fmt::format("the sun {} to graze {}, if nothing stands in its way",
                               n.kind == Kind::graze_begins ? "begins" : "ceases",
                               wall_name(room_.walls[n.index]));
        return fmt::format("{} {}: {}leaves {:.1f}", at, what,
                           page_.shown.has(Detail::next)
                               ? fmt::format("alone {:.1f}, ", degrees_95(n.sigma_deg))
                               : "",
                           degrees_95(n.sigma_after_deg));
    }

    /// The one that helps most; all on request. None while the clock is to be looked at first.
    void add_next() {
        const std::size_t most = page_.shown.has(Detail::next) ? most_proposals : 1;
        if (answer_.clock && most == 1) return;
        if (report_.next.empty()) {
            say("next: no sun that could be used " + page_.day, 0, 4);
            return;
        }
        for (std::size_t i = 0; i < std::min(report_.next.size(), most); ++i)
            say(fmt::format("{}{}", i == 0 ? "next, " + page_.day + " " : "or ",
                            proposal(report_.next[i])),
                0, 4);
    }

    /// What each observation was understood to say, and what the table's words mean.
    void add_words() {
        for (const std::string& line : page_.observations)
            say(line, 0, 4);
        say("give or take holds 95 of 100 cases; a doubt of \"within\" is taken as even over its "
            "range. times its doubt: what it differs by over what it may. Walls stand to each "
            "other "
            "as the file's floor has them. Steel beside a compass is in no model.",
            0, 0);
    }

    const BearingPage& page_;
    const BearingReport& report_;
    const BearingAnswer& answer_;
    const room::Room& room_;
    bool wide_;
    Paragraphs out_;
};

}  // namespace

Paragraphs bearing_page(const BearingPage& page, std::size_t columns) {
    return Writer{page, columns}.written();
}

}  // namespace keyhour::tell
