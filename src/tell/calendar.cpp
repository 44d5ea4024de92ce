#include "calendar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <map>
#include <set>

#include "keyhour/site/dates.hpp"
#include "sheet_text.hpp"
#include "words/shown.hpp"

namespace keyhour::tell {
namespace {

constexpr std::size_t longest_line = 75;  // octets, without the line's end
constexpr double one_minute_s = 60, one_hour_s = 3600;
constexpr double warning_s = 1800;  // this project's choice

/// RFC 5545, 3.3.11. Control characters, which it forbids, are shown as escapes.
std::string escaped_text(std::string_view text) {
    std::string out;
    for (std::size_t at = 0; at <= text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        if (at > 0) out += "\\n";
        for (const char c : words::escaped(text.substr(at, end - at))) {
            if (c == '\\' || c == ';' || c == ',') out += '\\';
            out += c;
        }
        at = end + 1;
    }
    return out;
}

/// Folded at 75 octets, never inside a character of UTF-8.
std::string folded(std::string_view line) {
    std::string out;
    std::size_t room = longest_line;
    while (line.size() > room) {
        std::size_t cut = room;
        while (cut > 1 && (static_cast<unsigned char>(line[cut]) & 0xC0U) == 0x80U)
            --cut;
        out += line.substr(0, cut);
        out += "\r\n ";
        line.remove_prefix(cut);
        room = longest_line - 1;  // after the blank
    }
    out += line;
    return out + "\r\n";
}

/// FNV-1a, 64 bits: enough to tell a location's events apart, the same on every machine.
std::uint64_t hash(std::string_view text) {
    std::uint64_t h = 14695981039346656037U;
    for (const char c : text) {
        h ^= static_cast<unsigned char>(c);
        h *= 1099511628211U;
    }
    return h;
}

std::string basic(site::LocalTime local) {
    return date::format("%Y%m%dT%H%M%S", local);
}

std::string basic_utc(Instant t) {
    const auto s = std::chrono::seconds{std::llround(t.unix_s())};
    return date::format("%Y%m%dT%H%M%SZ", date::sys_seconds{s});
}

/// To whole minutes, as the page and the strip tell the same: light that is promised inward, what
/// is in the way outward, work to the minute before, a lock as it was set. Never without length.
study::Span in_whole_minutes(const SheetEvent& e) {
    using Kind = SheetEvent::Kind;
    const bool promised =
        e.kind == Kind::wanted || e.kind == Kind::late_light || e.kind == Kind::key;
    const bool trouble = e.kind == Kind::cover;
    const bool work = e.kind == Kind::rigging || e.kind == Kind::hang;
    const Minute start = promised          ? Minute::after
                         : trouble || work ? Minute::before
                                           : Minute::nearest;
    const Minute end = trouble            ? Minute::after
                       : promised || work ? Minute::before
                                          : Minute::nearest;
    const Instant from = whole_minute(e.span.from, start);
    return {from, std::max(whole_minute(e.span.to, end), from + Seconds{one_minute_s})};
}

std::string offset(std::chrono::seconds s) {
    const long long all = std::abs(s.count());
    std::string out =
        fmt::format("{}{:02}{:02}", s.count() < 0 ? '-' : '+', all / 3600, all / 60 % 60);
    if (all % 60 != 0) out += fmt::format("{:02}", all % 60);
    return out;
}

/// The zone's name with nothing in it that a parameter would have to quote.
std::string zone_id(const site::Zone& zone) {
    std::string out;
    for (const char c : zone.name()) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                           (c >= '0' && c <= '9') || c == '/' || c == '_' || c == '-' || c == '+';
        out += plain ? c : '-';
    }
    return out;
}

/// The lines of a calendar as they were before they were folded.
std::vector<std::string> unfolded_lines(std::string_view text) {
    std::vector<std::string> lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        std::string_view line = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        if (line.ends_with('\r')) line.remove_suffix(1);
        if (!lines.empty() && (line.starts_with(' ') || line.starts_with('\t')))
            lines.back() += line.substr(1);
        else
            lines.emplace_back(line);
    }
    return lines;
}

/// An event of the calendar that this one replaces.
struct Former {
    int sequence = 0;
    std::string stamp;              // DTSTAMP's value
    std::vector<std::string> body;  // all else
};

/// A number that leaves room to count on; what a stranger wrote otherwise counts as none.
int sequence_of(const std::string& text) {
    constexpr int most = 1'000'000'000;
    int number = 0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
    return read.ec == std::errc{} && number >= 0 && number < most ? number : 0;
}

std::map<std::string, Former> former_events(std::string_view before) {
    std::map<std::string, Former> events;
    Former now;
    std::string uid;
    for (const std::string& line : unfolded_lines(before)) {
        if (line == "BEGIN:VEVENT") {
            now = {};
            uid.clear();
        } else if (line == "END:VEVENT") {
            if (!uid.empty()) events[uid] = now;
        } else if (line.starts_with("UID:")) {
            uid = line.substr(4);
        } else if (line.starts_with("SEQUENCE:")) {
            now.sequence = sequence_of(line.substr(9));
        } else if (line.starts_with("DTSTAMP:")) {
            now.stamp = line.substr(8);
        } else {
            now.body.push_back(line);
        }
    }
    return events;
}

/// The same event, cancelled: nobody is to be alarmed by it.
std::vector<std::string> cancelled(const std::vector<std::string>& body) {
    std::vector<std::string> out;
    bool in_alarm = false;
    for (const std::string& line : body) {
        if (line == "BEGIN:VALARM") in_alarm = true;
        if (!in_alarm && !line.starts_with("STATUS:")) out.push_back(line);
        if (line == "END:VALARM") in_alarm = false;
    }
    out.emplace_back("STATUS:CANCELLED");
    return out;
}

bool is_shown(const SheetEvent& e) {
    using Kind = SheetEvent::Kind;
    return e.kind != Kind::day && e.kind != Kind::sun_in && e.kind != Kind::direct;
}

class Calendar {
public:
    Calendar(const site::Location& location, Instant now, std::string_view before)
        : location_{location},
          zone_{location.site.zone},
          id_{zone_id(zone_)},
          now_{now},
          former_{former_events(before)} {}

    std::string write(const std::vector<SheetEvent>& events) {
        line("BEGIN:VCALENDAR");
        line("VERSION:2.0");
        line("PRODID:-//keyhour//keyhour light sheet//EN");
        line("CALSCALE:GREGORIAN");
        // No METHOD: it would make a message of this, which names an organiser (RFC 5546, 3.2.1).
        // A calendar has one part at least (3.6): without events the zone.
        if (!events.empty()) write_zone(events);
        gather_cloths(events);
        for (const SheetEvent& e : events)
            if (is_shown(e)) write_event(e);
        for (const SheetEvent& e : events)
            if (dates_.insert(site::iso_date(e.date)).second)
                write_vanished(site::iso_date(e.date));
        line("END:VCALENDAR");
        return std::move(out_);
    }

private:
    /// Cloths to be hung within five minutes of the first of them have one alarm, with that one.
    void gather_cloths(const std::vector<SheetEvent>& events) {
        constexpr Seconds together{300};
        std::vector<const SheetEvent*> cloths;
        for (const SheetEvent& e : events)
            if (e.kind == SheetEvent::Kind::hang) cloths.push_back(&e);
        std::ranges::stable_sort(cloths, {}, [](const SheetEvent* e) { return e->span.to; });
        const SheetEvent* first = nullptr;
        for (const SheetEvent* e : cloths) {
            const bool joins =
                first && in_whole_minutes(*e).to - in_whole_minutes(*first).to <= together;
            if (!joins) first = e;
            cloth_alarms_[first] += joins ? "; " + e->what : e->what;
        }
    }

    void line(const std::string& text) { out_ += folded(text); }

    /// The rules of the years used, one observance for each step of the clocks.
    void write_zone(const std::vector<SheetEvent>& events) {
        site::LocalDate first = events.front().date, last = first;
        for (const SheetEvent& e : events) {
            // Rigging may begin on the evening before.
            first = std::min({first, e.date, site::local_date(e.span.from, zone_)});
            last = std::max(last, site::local_date(e.span.to, zone_));
        }
        line("BEGIN:VTIMEZONE");
        line("TZID:" + escaped_text(id_));
        const Instant from = zone_.start_of(first.year() / 1 / 1);
        const Instant to = zone_.start_of(last.year() / 12 / 31) + Seconds{86400};
        observance(zone_.at(from).local, zone_.at(from).utc_offset, zone_.at(from));
        for (Instant t = from; t < to; t = t + Seconds{one_hour_s * 6}) {
            const auto before = zone_.at(t), after = zone_.at(t + Seconds{one_hour_s * 6});
            if (before.utc_offset == after.utc_offset) continue;
            const Instant step = step_between(t, t + Seconds{one_hour_s * 6});
            const auto local = date::local_seconds{
                std::chrono::seconds{std::llround(step.unix_s())} + before.utc_offset};
            observance(local, before.utc_offset, zone_.at(step));
        }
        line("END:VTIMEZONE");
    }

    /// The first whole second with the later offset.
    [[nodiscard]] Instant step_between(Instant before, Instant after) const {
        const auto later = zone_.at(after).utc_offset;
        double a = std::floor(before.unix_s()), b = std::ceil(after.unix_s());
        while (b - a > 1) {
            const double middle = std::floor((a + b) / 2);
            (zone_.at(Instant::from_unix_s(middle)).utc_offset == later ? b : a) = middle;
        }
        return Instant::from_unix_s(b);
    }

    void observance(site::LocalTime from, std::chrono::seconds before,
                    const site::ClockReading& now) {
        const char* kind = now.daylight_saving ? "DAYLIGHT" : "STANDARD";
        line(fmt::format("BEGIN:{}", kind));
        line("DTSTART:" + basic(from));
        line("TZOFFSETFROM:" + offset(before));
        line("TZOFFSETTO:" + offset(now.utc_offset));
        if (!now.abbreviation.empty()) line("TZNAME:" + escaped_text(now.abbreviation));
        line(fmt::format("END:{}", kind));
    }

    /// Start and end of an event: in the zone; both in UTC where a local time happens twice.
    [[nodiscard]] std::vector<std::string> times(const study::Span& span) const {
        const Instant start = span.from, end = span.to;
        const auto is_told = [&](Instant t) {
            return zone_.instant(zone_.at(t).local).has_value();
        };
        if (!is_told(start) || !is_told(end))
            return {"DTSTART:" + basic_utc(start), "DTEND:" + basic_utc(end)};
        return {fmt::format("DTSTART;TZID={}:{}", id_, basic(zone_.at(start).local)),
                fmt::format("DTEND;TZID={}:{}", id_, basic(zone_.at(end).local))};
    }

    [[nodiscard]] std::string uid(const SheetEvent& e) const {
        const std::string key =
            fmt::format("{}\n{}\n{}\n{}\n{}\n{}\n{}", location_.site.name, name(e.kind), e.mark,
                        e.camera, e.window, e.spot, e.number);
        return fmt::format("{}-{}-{:016x}@keyhour.invalid", name(e.kind), site::iso_date(e.date),
                           hash(key));
    }

    void write_event(const SheetEvent& e) {
        std::vector<std::string> body = times(in_whole_minutes(e));
        body.push_back("SUMMARY:" + escaped_text(e.what));
        if (!e.detail.empty()) body.push_back("DESCRIPTION:" + escaped_text(e.detail));
        if (!location_.site.name.empty()) body.push_back(place(e));
        const Observer& at = e.place ? e.place->at : location_.site.observer;
        body.push_back(
            fmt::format("GEO:{:.6f};{:.6f}", at.latitude.in_degrees(), at.longitude.in_degrees()));
        body.emplace_back("TRANSP:TRANSPARENT");
        add_alarms(e, body);
        write_component(uid(e), body);
    }

    /// Events of the date that the calendar before this one had and that are no more. Another
    /// location's stay out: it may have been exported to the same folder.
    void write_vanished(const std::string& date) {
        if (location_.site.name.empty()) return;
        for (const auto& [id, event] : former_)
            if (!written_.contains(id) && id.find('-' + date + '-') != std::string::npos &&
                std::ranges::any_of(event.body, [&](const auto& l) { return is_ours(l); }) &&
                std::ranges::none_of(event.body,
                                     [&](const std::string& l) { return is_foreign(l); }))
                write_component(id, cancelled(event.body));
    }

    /// In a zone whose rules do not stand here.
    [[nodiscard]] bool is_foreign(const std::string& l) const {
        return l.find(";TZID=") != std::string::npos &&
               l.find(";TZID=" + id_ + ':') == std::string::npos;
    }

    void write_component(const std::string& id, const std::vector<std::string>& body) {
        int sequence = 0;
        std::string stamp = basic_utc(now_);
        if (const auto was = former_.find(id); was != former_.end()) {
            const bool same = was->second.body == body;
            sequence = was->second.sequence + (same ? 0 : 1);
            if (same && !was->second.stamp.empty()) stamp = was->second.stamp;
        }
        written_.insert(id);
        line("BEGIN:VEVENT");
        line("UID:" + id);
        line("DTSTAMP:" + stamp);
        line(fmt::format("SEQUENCE:{}", sequence));
        for (const std::string& l : body)
            line(l);
        line("END:VEVENT");
    }

    /// "LOCATION:bindery\\, Taken apart": of a place, with what it belongs to.
    [[nodiscard]] std::string place(const SheetEvent& e) const {
        const std::string& name = location_.site.name;
        return "LOCATION:" + escaped_text(e.place ? e.place->name + ", " + name : name);
    }
    [[nodiscard]] bool is_ours(const std::string& l) const {
        const std::string name = escaped_text(location_.site.name);
        return l == "LOCATION:" + name ||
               (l.starts_with("LOCATION:") && l.ends_with("\\, " + name));
    }

    /// When somebody must begin; of a set-up or a cloth also half an hour before, while there is
    /// still time for it.
    void add_alarms(const SheetEvent& e, std::vector<std::string>& body) const {
        using Kind = SheetEvent::Kind;
        if (e.kind == Kind::rigging) add_alarm("Begin: " + e.what, "TRIGGER:PT0S", body);
        if (const auto cloths = cloth_alarms_.find(&e); cloths != cloth_alarms_.end())
            add_alarm(cloths->second + ": within half an hour",
                      at(in_whole_minutes(e).to - Seconds{warning_s}), body);
        if (!e.latest) return;
        const Instant latest = whole_minute(*e.latest, Minute::before);
        add_alarm("Begin the set-up within half an hour: " + e.what,
                  at(latest - Seconds{warning_s}), body);
        add_alarm("Begin the set-up: " + e.what, at(latest), body);
    }

    static std::string at(Instant t) { return "TRIGGER;VALUE=DATE-TIME:" + basic_utc(t); }

    static void add_alarm(const std::string& words, const std::string& trigger,
                          std::vector<std::string>& body) {
        body.emplace_back("BEGIN:VALARM");
        body.emplace_back("ACTION:DISPLAY");
        body.push_back("DESCRIPTION:" + escaped_text(words));
        body.push_back(trigger);
        body.emplace_back("END:VALARM");
    }

    const site::Location& location_;
    const site::Zone& zone_;
    std::string id_, out_;
    Instant now_;
    std::map<std::string, Former> former_;
    std::set<std::string> dates_, written_;
    std::map<const SheetEvent*, std::string> cloth_alarms_;  ///< by the event that has the alarm
};

}  // namespace

std::string calendar(const std::vector<SheetEvent>& events, const site::Location& location,
                     Instant now, std::string_view before) {
    return Calendar{location, now, before}.write(events);
}

}  // namespace keyhour::tell
