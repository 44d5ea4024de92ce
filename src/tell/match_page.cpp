#include "tell/match_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/dates.hpp"
#include "tell/cautions.hpp"
#include "tell/lamp_page.hpp"
#include "tell/message.hpp"
#include "tell/shot_words.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"
#include "words/shown.hpp"

namespace keyhour::tell {
namespace {

using ask::MatchedDate;

/// One answer, sentence by sentence.
class MatchPage {
public:
    MatchPage(const ask::MatchAnswer& answer, const MatchQuestion& q)
        : a_{answer},
          q_{q},
          location_{answer.dates_asked->location},
          zone_{location_.site.zone},
          room_{*location_.room},
          units_{q.recce.units} {}

    Paragraphs page() {
        for (const std::string& line : q_.loud)
            say(line);
        for (Paragraph& p : opening(location_, q_.recce, q_.dates))
            out_.push_back(std::move(p));
        the_shot();
        if (q_.shot.key == study::ShotKey::lamp) the_lamp("the lamp again: ");
        matches();
        misses();
        const bool again =
            std::ranges::any_of(a_.dates, [](const MatchedDate& d) { return d.match.agrees(); });
        const bool by_sun = q_.shot.key == study::ShotKey::sun;
        const bool lamp_told = !by_sun || !again || q_.show.has(Detail::levels);
        if (by_sun && lamp_told) the_lamp("or by lamp: ");
        out_.push_back({a_.shot.lamp && lamp_told ? lamp_outside_caution : sun_caution, 0, 0});
        return std::move(out_);
    }

    std::vector<std::string> messages() const {
        std::vector<std::string> out;
        for (const MatchedDate& d : a_.dates)
            if (d.match.agrees())
                out.push_back(
                    message({row(d), " " + words::offset_at(d.match.nearest->at, zone_)}));
        if (out.empty())
            out.push_back(
                message({fmt::format("{}: no match on {} to {}", name(),
                                     site::iso_date(q_.dates.first), site::iso_date(q_.dates.last)),
                         ", nearest " + nearest_of(0, a_.dates.size())}));
        return out;
    }

private:
    void say(std::string text, std::size_t indent = 0) {
        out_.push_back({std::move(text), indent, indent + 2});
    }

    std::string name() const {
        return q_.shot.name.empty() ? "the shot" : words::shown(q_.shot.name);
    }

    std::string moment(Instant t) const {
        return words::minute_down(words::nearest_minute(t), zone_);
    }

    void the_shot() {
        say(fmt::format("{} ({}), {}, {} {}: {}, {}", name(), q_.where,
                        words::short_date(site::local_date(q_.shot_at, zone_)),
                        words::minute_down(q_.shot_at, zone_), words::offset_at(q_.shot_at, zone_),
                        key_in_words(told_shot()),
                        direction_in_words(a_.shot.azimuth_deg, a_.shot.altitude_deg)));
        for (const site::ClockChange& change : changes_between(zone_, q_.shot_at, q_.dates))
            say("between the shot and these dates " + site::in_words(change));
        if (!q_.show.has(Detail::levels)) return;
        study::LoggedShot level = q_.shot;
        level.computed_lx = a_.shot.light.lx;
        say(level_in_words(level));
    }

    /// With the window that was found, where the log names none.
    study::LoggedShot told_shot() const {
        study::LoggedShot out = q_.shot;
        out.window = room_.windows[a_.shot.light.window].name;
        return out;
    }

    /// "+0.2 stop, -3 mired".
    static std::string difference(const MatchedDate& d) {
        std::string out;
        if (!d.change) return out;
        out += fmt::format(", {} stop", words::signed_stops(d.change->stops));
        if (d.change->mired) out += fmt::format(", {:+.0f} mired", *d.change->mired + 0.0);
        return out;
    }

    /// "0.4 deg, 1 cm"; what misses the angle never reads as if it kept it.
    std::string off(const study::MatchMoment& m) const {
        const double within = q_.settings.within_deg;
        const bool looks_kept = m.off_deg > within && std::round(10 * m.off_deg) <= 10 * within;
        return fmt::format("{:.{}f} deg, {}", m.off_deg, looks_kept ? 2 : 1,
                           words::small_length(m.shift_m, units_));
    }

    std::string row(const MatchedDate& d) const {
        std::string spans;
        for (const study::Span& s : d.match.spans)
            spans += (spans.empty() ? "" : " and ") + words::clock_inward(s, zone_);
        return fmt::format("{} {}, best {}: {}{}", words::row_date(d.match.date), spans,
                           moment(d.match.nearest->at), off(*d.match.nearest), difference(d));
    }

    void matches() {
        std::vector<const MatchedDate*> found;
        for (const MatchedDate& d : a_.dates)
            if (d.match.agrees()) found.push_back(&d);
        const std::string degrees = words::in_degrees(q_.settings.within_deg);
        if (found.empty()) {
            say(fmt::format("NO MATCH within {} on {} in working hours", degrees,
                            a_.dates.size() == 1 ? "this date" : "any of these dates"));
            return;
        }
        std::ranges::stable_sort(found, {}, [](const MatchedDate* d) {
            return std::round(10 * d->match.nearest->off_deg);
        });
        const std::size_t told = std::min(found.size(), q_.most);
        const std::string which =
            told < found.size() ? fmt::format(", {} of them", told) : std::string{};
        say(fmt::format("within {} on {} of {} dates{} (degrees off, patch, level, colour):",
                        degrees, found.size(), a_.dates.size(), which));
        for (std::size_t i = 0; i < told; ++i) {
            say(row(*found[i]), 2);
            if (q_.show.has(Detail::levels)) levels(*found[i]);
        }
    }

    void levels(const MatchedDate& d) {
        const study::MatchMoment& m = *d.match.nearest;
        std::string text =
            fmt::format("sun {:.1f} {}, {:.1f} {}", std::abs(m.altitude_off_deg),
                        m.altitude_off_deg < 0 ? "lower" : "higher", std::abs(m.azimuth_off_deg),
                        m.azimuth_off_deg < 0 ? "to the left" : "to the right");
        if (d.change) {
            text += fmt::format(", {} at the mark", words::level(d.change->lx));
            if (q_.shot.metered_lx)
                text += fmt::format(" (a meter {})",
                                    words::level(*q_.shot.metered_lx * std::exp2(d.change->stops)));
            if (d.change->key_angle_deg && a_.shot.key_angle_deg)
                text += fmt::format(", key angle {:.0f}, not {:.0f}", *d.change->key_angle_deg,
                                    *a_.shot.key_angle_deg);
        }
        say(text, 4);
    }

    /// Dates in a row without a match, and what came nearest.
    void misses() {
        constexpr std::size_t most_rows = 3;
        std::size_t rows = 0, left = 0;
        for (std::size_t i = 0; i < a_.dates.size();) {
            std::size_t end = i;
            while (end < a_.dates.size() && !a_.dates[end].match.agrees())
                ++end;
            if (end == i) {
                ++i;
                continue;
            }
            if (q_.show.has(Detail::misses))
                for (std::size_t d = i; d < end; ++d)
                    say("no match on " + stretch(d, d + 1));
            else if (rows++ < most_rows)
                say("no match on " + stretch(i, end));
            else
                left += end - i;
            i = end;
        }
        if (left > 0) say(fmt::format("no match on {} more dates (--show misses)", left));
    }

    std::string stretch(std::size_t from, std::size_t to) const {
        std::string text = words::row_date(a_.dates[from].match.date);
        if (to - from > 1)
            text += fmt::format(" to {} ({} dates)", words::row_date(a_.dates[to - 1].match.date),
                                to - from);
        return text + ": nearest " + nearest_of(from, to);
    }

    std::string nearest_of(std::size_t from, std::size_t to) const {
        const MatchedDate* best = nullptr;
        const MatchedDate* other = nullptr;
        for (std::size_t d = from; d < to; ++d) {
            const MatchedDate& here = a_.dates[d];
            if (here.match.nearest &&
                (!best || here.match.nearest->off_deg < best->match.nearest->off_deg))
                best = &here;
            if (here.match.out_of_hours &&
                (!other || here.match.out_of_hours->off_deg < other->match.out_of_hours->off_deg))
                other = &here;
        }
        std::string text = best ? at(*best->match.nearest, best->match.date, to - from > 1)
                                : fmt::format("none, no sun through {} reaches the mark{}",
                                              room_.windows[a_.shot.light.window].name,
                                              other ? " in working hours" : "");
        if (other)
            text += "; outside those hours " +
                    at(*other->match.out_of_hours, other->match.date, to - from > 1);
        return text;
    }

    std::string at(const study::MatchMoment& m, site::LocalDate date, bool with_date) const {
        return fmt::format("{}{}: {}", with_date ? words::row_date(date) + " " : "", moment(m.at),
                           off(m));
    }

    void the_lamp(const std::string& head) {
        if (!a_.shot.lamp) return;
        const LampAnswer told{*a_.shot.lamp, a_.shot.lamp_question, a_.shot.day->study(), q_.recce,
                              q_.show};
        std::string text = head + lamp_message(told);
        const auto& light = a_.shot.lamp->light;
        if (q_.shot.key == study::ShotKey::sun && light && light->level_lx > 0 &&
            a_.shot.light.lx > 0) {
            const double stops = std::log2(light->level_lx / a_.shot.light.lx);
            text += fmt::format(", {:.1f} stops {} the shot", std::abs(stops),
                                stops < 0 ? "under" : "over");
        }
        say(std::move(text));
    }

    const ask::MatchAnswer& a_;
    const MatchQuestion& q_;
    const site::Location& location_;
    const site::Zone& zone_;
    const room::Room& room_;
    site::Units units_;
    Paragraphs out_;
};

}  // namespace

Paragraphs match_page(const ask::MatchAnswer& answer, const MatchQuestion& q) {
    return MatchPage{answer, q}.page();
}

std::vector<std::string> match_messages(const ask::MatchAnswer& answer, const MatchQuestion& q) {
    return MatchPage{answer, q}.messages();
}

std::vector<site::ClockChange> changes_between(const site::Zone& zone, Instant shot,
                                               const Dates& dates) {
    const site::LocalDate day = site::local_date(shot, zone);
    if (day < dates.first) return site::clock_changes(zone, site::next_day(day), dates.first);
    if (dates.last < day) return site::clock_changes(zone, site::next_day(dates.last), day);
    return {};
}

}  // namespace keyhour::tell
