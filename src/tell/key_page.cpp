#include "tell/key_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/light_side.hpp"
#include "tell/cautions.hpp"
#include "tell/doubt_documents.hpp"
#include "tell/doubt_lines.hpp"
#include "tell/forge_lines.hpp"
#include "tell/key_sentences.hpp"
#include "tell/light_lines.hpp"
#include "tell/message.hpp"
#include "tell/meter_lines.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"

namespace keyhour::tell {
namespace {

class KeyPage {
public:
    explicit KeyPage(const KeyAnswer& answer)
        : a_{answer}, room_{*answer.location.room}, zone_{answer.location.site.zone} {}

    Paragraphs page() {
        if (!a_.reversed.empty()) say(a_.reversed);
        if (is_bearing_needed()) say(bearing_needed(room_));
        for (Paragraph& p : opening(a_.location, a_.recce, a_.dates))
            out_.push_back(std::move(p));
        if (a_.why)
            for (Paragraph& p : why_lines(*a_.why, room_, a_.recce.units))
                out_.push_back(std::move(p));
        if (a_.camera.is_given) say(camera_text(a_.camera));
        if (a_.found == 0)
            none();
        else if (a_.dates.is_range)
            rows();
        else
            for (std::size_t i = 0; i < a_.keys.size(); ++i)
                block(i);
        if (!a_.dates.is_range) together();
        dark();
        failed();
        closing();
        return std::move(out_);
    }

private:
    void say(std::string text, std::size_t indent = 0) {
        out_.push_back({std::move(text), indent, indent + 2});
    }

    /// Must the bearing be measured, as little of the best key is sure with the usual doubt?
    bool is_bearing_needed() const {
        if (a_.recce.bearing_within_given || a_.keys.empty()) return false;
        const study::KeyInterval& best = a_.keys.front();
        return best.sure_hold() < 0.5 * best.hold() || !best.span;
    }

    std::size_t wall_that_matters() const {
        if (a_.keys.empty()) {
            const study::NearestMiss* miss = nearest(a_.misses);
            return miss ? room_.windows[miss->window].wall : room_.bearing.wall;
        }
        return room_.windows[a_.keys.front().window].wall;
    }

    // --- one date -------------------------------------------------------------------------------

    std::string headline(std::size_t i) const {
        const study::KeyInterval& k = a_.keys[i];
        std::string text = a_.keys.size() > 1 ? fmt::format("{}. ", i + 1) : "";
        if (k.span)
            text += fmt::format("clean key {} ({})", told_span(*k.span, zone_),
                                words::in_minutes(words::promised_length(*k.span)));
        else
            text += fmt::format("NOT AT THE BEARING STATED, at another within its doubt {}",
                                words::span_outward(k.possible, zone_));
        return text + ": " + who(room_, k.window, k.mark, k.camera);
    }

    void block(std::size_t i) {
        const study::KeyInterval& k = a_.keys[i];
        const study::HoldDoubt* doubt = i < a_.doubts.size() ? &a_.doubts[i] : nullptr;
        const std::size_t in = a_.keys.size() > 1 ? 3 : 0;
        say(headline(i), 0);
        std::string sure = k.span ? band(k.sure, k.possible, zone_) : "check the bearing";
        if (doubt && !a_.show.has(Detail::doubt))
            sure += "; every doubt: " + lit_words(*doubt, zone_);
        say(sure, in);
        if (doubt && a_.show.has(Detail::doubt)) say(hold_doubt_text(*doubt, zone_), in);
        if (!k.span) return;
        if (a_.show.has(Detail::doubt)) centre_alone(k, in);
        say(fmt::format("{}; {}", edges(k.begins_by, k.ends_by, room_),
                        covers(k.to_cover, site::local_date(k.span->from, zone_), room_, zone_)),
            in);
        light(i, in);
    }

    /// "type case and stool at once 11:02 to 11:20 (18 min), at any bearing 11:05 to 11:16": the
    /// longest of each set of marks.
    void together() {
        const std::vector<std::size_t>* before = nullptr;
        for (const study::Together& t : a_.together) {
            if (before && *before == t.marks) continue;
            before = &t.marks;
            std::vector<std::string> names;
            for (const std::size_t m : t.marks)
                names.push_back(room_.marks[m].name);
            say(fmt::format(
                "{} at once {} ({}){}", fmt::join(names, " and "), told_span(t.span, zone_),
                words::in_minutes(words::promised_length(t.span)),
                t.sure ? ", at any bearing " + words::clock_inward(*t.sure, zone_) : ""));
        }
    }

    void centre_alone(const study::KeyInterval& k, std::size_t in) {
        if (k.centre && words::promised_length(*k.centre) > words::promised_length(*k.span))
            say(fmt::format("the mark's centre alone would hold {}: the whole mark does not",
                            words::in_minutes(words::promised_length(*k.centre))),
                in);
    }

    std::string found_in_brief(const study::KeyInterval& k, const study::LightDrift& d) const {
        if (!a_.found_light) return {};
        return (a_.found_light->correction().corrects() ? " as the recce's meter corrects it"
                                                        : "") +
               forge_is_key(a_.found_light->forges(k.mark),
                            std::max(d.at_start.key_lx.likely, d.at_end.key_lx.likely));
    }

    void found_in_full(const study::KeyInterval& k, const study::LightDrift& d, std::size_t in) {
        if (!a_.found_light) return;
        for (const study::ForgeLight& f : a_.found_light->forges(k.mark))
            say(forge_text(f, room_, d.at_start.key_lx.likely, d.at_end.key_lx.likely), in);
        for (std::string& line : meter_lines(a_.found_light->correction(), zone_))
            say(std::move(line), in);
    }

    void light(std::size_t i, std::size_t in) {
        const study::KeyInterval& k = a_.keys[i];
        std::string text;
        if (k.camera)
            text = fmt::format("key angle {:.0f} to {:.0f}, {}; ", k.key_angle_deg[0],
                               k.key_angle_deg[1], study::light_side_in_words(k.light_from_right));
        const bool told = i < a_.lights.size() && a_.lights[i];
        if (told)
            text += level_in_brief(a_.lights[i]->clear) + found_in_brief(k, a_.lights[i]->clear);
        else
            text += fmt::format("sun {:.0f} to {:.0f} high", k.altitude_deg[0], k.altitude_deg[1]);
        say(text, in);
        if (!told) return;
        const study::KeyLight& light = *a_.lights[i];
        if (a_.show.has(Detail::levels)) {
            say(sun_line(k), in);
            for (std::string& line : light_lines(light, a_.camera, room_))
                say(std::move(line), in);
            found_in_full(k, light.clear, in);
        } else if (a_.camera.is_given) {
            say(meter_line(light.clear, a_.camera), in);
        }
        if (a_.show.has(Detail::haze))
            for (std::string& line : haze_lines(light, room_, a_.recce.units))
                say(std::move(line), in);
    }

    std::string sun_line(const study::KeyInterval& k) const {
        std::string sun =
            fmt::format("sun {:.0f} to {:.0f} degrees high", k.altitude_deg[0], k.altitude_deg[1]);
        if (k.drift_m_per_min)
            sun += fmt::format("; patch on {} moves {}", room::words(k.behind, room_),
                               words::speed(*k.drift_m_per_min, a_.recce.units));
        return sun;
    }

    // --- a range --------------------------------------------------------------------------------

    /// All rows by one window, mark and camera?
    bool all_alike() const {
        return std::all_of(a_.keys.begin(), a_.keys.end(), [&](const study::KeyInterval& k) {
            const study::KeyInterval& first = a_.keys.front();
            return k.window == first.window && k.mark == first.mark && k.camera == first.camera;
        });
    }

    bool one_offset() const {
        return std::all_of(a_.keys.begin(), a_.keys.end(), [&](const study::KeyInterval& k) {
            return words::offset_at(told(k).from, zone_) ==
                   words::offset_at(told(a_.keys.front()).from, zone_);
        });
    }

    void rows() {
        const bool alike = all_alike(), offset = !one_offset(), doubts = !a_.doubts.empty();
        if (alike)
            say("clean key, " +
                who(room_, a_.keys.front().window, a_.keys.front().mark, a_.keys.front().camera));
        say(fmt::format("date          {}clock       hold  any{}{}", offset ? "offset " : "",
                        doubts ? " 9/10" : "", alike ? "" : "  window on mark"));
        for (std::size_t i = 0; i < a_.keys.size(); ++i)
            row(i, alike, offset);
        if (a_.keys.size() < a_.found)
            say(fmt::format("... and {} more, no better (--all shows them)",
                            a_.found - a_.keys.size()));
        say(fmt::format(
            "minutes, best first; any: at any bearing within its doubt{}{}",
            std::any_of(a_.keys.begin(), a_.keys.end(), [](const auto& k) { return !k.span; })
                ? "; hold -: possible at another bearing only"
                : "",
            doubts ? "; 9/10: or more in 9 of 10 cases, with every doubt" : ""));
    }

    void row(std::size_t i, bool alike, bool offset) {
        const study::KeyInterval& k = a_.keys[i];
        // What is possible at some bearing is told outward, as on the page.
        const study::Span& span = told(k);
        const Instant from =
                          k.span ? words::minute_after(span.from) : words::minute_before(span.from),
                      to = k.span ? words::minute_before(span.to) : words::minute_after(span.to);
        const Seconds sure = k.sure ? words::promised_length(*k.sure) : Seconds{0};
        const auto minutes = [](Seconds s) {
            return s < Seconds{60} ? std::string{"-"}
                                   : fmt::format("{}", std::lround(s.count() / 60));
        };
        std::string text = fmt::format(
            "{} {}{}-{} {:>4} {:>4}", words::row_date(site::local_date(span.from, zone_)),
            offset ? words::offset_at(span.from, zone_).substr(3) + ' ' : "",
            site::whole_minutes(from, zone_), site::whole_minutes(to, zone_),
            k.span ? minutes(words::promised_length(*k.span)) : "-", minutes(sure));
        if (i < a_.doubts.size())
            text += fmt::format(
                " {:>4}", minutes(Seconds{60 * std::floor(a_.doubts[i].hold_90.count() / 60)}));
        if (!alike) text += "  " + who_in_short(room_, k);
        if (!k.to_cover.empty()) text += ", with covers";
        if (i < a_.drifts.size() && a_.drifts[i])
            text += "; " + meter_in_short(*a_.drifts[i], a_.camera);
        out_.push_back({text, 0, 14});
    }

    // --- none -----------------------------------------------------------------------------------

    void none() {
        say(a_.dates.is_range ? "NO CLEAN KEY on any of these dates" : "NO CLEAN KEY on this date");
        const study::NearestMiss* miss = nearest(a_.misses);
        if (!miss) return;
        say("nearest: " + miss_in_words(*miss, room_, zone_, a_.dates.is_range));
        say("to change: " + remedy(*miss, room_));
    }

    void dark() {
        if (!a_.camera.wish || a_.dark.empty()) return;
        const ask::DarkKey& least = a_.dark.front();
        const study::KeyInterval& k = least.interval;
        const study::Span& span = told(k);
        say(fmt::format(
            "left out as too dark for {}: {} hold{}; the nearest is {:.1f} stops "
            "short: {}, {} {}",
            words::t_stop(a_.camera.wish->t_number), a_.dark.size(), a_.dark.size() == 1 ? "" : "s",
            least.missing_stops, who(room_, k.window, k.mark, k.camera),
            words::short_date(site::local_date(span.from, zone_)), told_span(span, zone_)));
    }

    /// What gave none: one line in all, or each with its reason.
    void failed() {
        const study::NearestMiss* told = a_.found == 0 ? nearest(a_.misses) : nullptr;
        if (a_.show.has(Detail::misses)) {
            for (const study::NearestMiss& miss : a_.misses)
                if (&miss != told)
                    say("none: " + miss_in_words(miss, room_, zone_, a_.dates.is_range));
            return;
        }
        std::vector<std::string> names;
        for (const study::NearestMiss& miss : a_.misses) {
            const std::string& name = room_.windows[miss.window].name;
            const bool gave = std::ranges::any_of(
                a_.keys, [&](const auto& k) { return k.window == miss.window; });
            if (&miss == told || gave || std::ranges::find(names, name) != names.end()) continue;
            names.push_back(name);
        }
        if (!names.empty()) say(fmt::format("none: {} (--show misses)", fmt::join(names, ", ")));
    }

    void closing() {
        say(fmt::format("{}{}", a_.keys.empty() || a_.dates.is_range ? "" : "bearing: ",
                        wall_in_brief(room_, wall_that_matters())));
        if (a_.show.has(Detail::doubt) && !a_.doubts.empty()) say(doubt_meaning);
        if (!a_.lights.empty() && a_.show.has(Detail::levels)) say(level_meaning);
        if (!a_.lights.empty() && a_.show.has(Detail::haze))
            say(haze_caution + std::string{"; local codes and licensed practice decide."});
        if (a_.show.has(Detail::readback))
            for (const std::string& line : a_.read_back)
                say(line);
        if (!a_.keys.empty()) say(sun_caution);
    }

    static constexpr const char* level_meaning =
        "levels: clear sky; air alone: one class clearer to one hazier; fill: what the room gives "
        "back on average, good to a factor 2; mean cloud: the sun out half of the time, a moment "
        "has all of it or none; meter: key and fill together, turned to the window.";

    const KeyAnswer& a_;
    const room::Room& room_;
    const site::Zone& zone_;
    Paragraphs out_;
};

}  // namespace

Paragraphs key_page(const KeyAnswer& answer) {
    return KeyPage{answer}.page();
}

std::vector<std::string> key_messages(const KeyAnswer& answer) {
    const room::Room& room = *answer.location.room;
    const site::Zone& zone = answer.location.site.zone;
    const auto head = [&](Instant t) {
        const std::string& name = answer.location.site.name;
        return fmt::format("{}{}{} {}", name, name.empty() ? "" : ", ",
                           words::short_date(site::local_date(t, zone)), words::offset_at(t, zone));
    };
    std::vector<std::string> lines;
    for (const study::KeyInterval& k : answer.keys) {
        const study::Span& span = told(k);
        lines.push_back(
            message({fmt::format("{}{} ", k.span ? "key " : "key only possible ",
                                 k.span ? told_span(span, zone) : words::clock_outward(span, zone)),
                     head(span.from),
                     k.sure ? ", any bearing " + words::clock_inward(*k.sure, zone)
                            : std::string{k.span ? ", at no other bearing" : ""},
                     ": " + who_in_short(room, k),
                     k.to_cover.empty()
                         ? ""
                         : "; " + covers(k.to_cover, site::local_date(span.from, zone), room, zone),
                     k.span ? "; ends by " + room::words(k.ends_by, room) : ""}));
    }
    if (!lines.empty()) return lines;
    const study::NearestMiss* miss = nearest(answer.misses);
    const Instant noon = zone.start_of(answer.dates.first) + Seconds{43200};
    lines.push_back(message(
        {"no clean key ", head(noon),
         answer.dates.is_range ? " to " + words::short_date(answer.dates.last) : std::string{},
         miss ? "; nearest " + room.windows[miss->window].name +
                    (miss->at ? " " + site::whole_minutes(*miss->at, zone) : "") + ": " +
                    miss->reason
              : std::string{}}));
    return lines;
}

}  // namespace keyhour::tell
