#include "keyhour/file/calendar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <map>

#include "keyhour/site/dates.hpp"

namespace keyhour::file {
namespace {

constexpr std::size_t longest_line = 75;  // octets, without the line's end
constexpr double minute_s = 60, hour_s = 3600;

/// RFC 5545, 3.3.11. Control characters, which it forbids, become blanks.
std::string escaped_text(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '\\' || c == ';' || c == ',') out += '\\';
        if (c == '\n')
            out += "\\n";
        else
            out += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? ' ' : c;
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

Instant nearest_minute(Instant t) {
    return Instant::from_unix_s(std::round(t.unix_s() / minute_s) * minute_s);
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

class Calendar {
public:
    Calendar(const site::Location& location, std::string_view before)
        : location_{location}, zone_{location.site.zone}, id_{zone_id(zone_)} {
        read(before);
    }

    std::string write(const std::vector<SheetEvent>& events) {
        line("BEGIN:VCALENDAR");
        line("VERSION:2.0");
        line("PRODID:-//keyhour//keyhour light sheet//EN");
        line("CALSCALE:GREGORIAN");
        line("METHOD:PUBLISH");
        std::vector<const SheetEvent*> shown;
        for (const SheetEvent& e : events)
            if (e.kind != SheetEvent::Kind::day && e.kind != SheetEvent::Kind::sun_in &&
                e.kind != SheetEvent::Kind::direct)
                shown.push_back(&e);
        if (!shown.empty()) write_zone(shown);
        for (const SheetEvent* e : shown)
            write_event(*e);
        line("END:VCALENDAR");
        return std::move(out_);
    }

private:
    struct Former {
        int sequence = 0;
        std::string body;
    };

    void line(const std::string& text) { out_ += folded(text); }

    /// What an earlier export said of each UID, without SEQUENCE and DTSTAMP.
    void read(std::string_view before) {
        std::string text;
        for (std::size_t i = 0; i < before.size(); ++i) {
            if (before[i] == '\r') continue;
            if (before[i] == '\n' && i + 1 < before.size() && before[i + 1] == ' ')
                ++i;
            else
                text += before[i];
        }
        Former now;
        std::string uid;
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t end = std::min(text.find('\n', at), text.size());
            const std::string l = text.substr(at, end - at);
            at = end + 1;
            if (l == "BEGIN:VEVENT") {
                now = {};
                uid.clear();
            } else if (l == "END:VEVENT") {
                if (!uid.empty()) former_[uid] = now;
            } else if (l.starts_with("UID:")) {
                uid = l.substr(4);
            } else if (l.starts_with("SEQUENCE:")) {
                (void)std::from_chars(l.data() + 9, l.data() + l.size(), now.sequence);
            } else if (!l.starts_with("DTSTAMP:")) {
                now.body += l + '\n';
            }
        }
    }

    /// The rules of the years used, one observance for each step of the clocks.
    void write_zone(const std::vector<const SheetEvent*>& events) {
        site::LocalDate first = events.front()->date, last = first;
        for (const SheetEvent* e : events) {
            // Rigging may begin on the evening before.
            first = std::min({first, e->date, site::local_date(e->span.from, zone_)});
            last = std::max(last, site::local_date(e->span.to, zone_));
        }
        line("BEGIN:VTIMEZONE");
        line("TZID:" + escaped_text(id_));
        const Instant from = zone_.start_of(first.year() / 1 / 1);
        const Instant to = zone_.start_of(last.year() / 12 / 31) + Seconds{86400};
        observance(zone_.at(from).local, zone_.at(from).utc_offset, zone_.at(from));
        for (Instant t = from; t < to; t = t + Seconds{hour_s * 6}) {
            const auto before = zone_.at(t), after = zone_.at(t + Seconds{hour_s * 6});
            if (before.utc_offset == after.utc_offset) continue;
            const Instant step = step_between(t, t + Seconds{hour_s * 6});
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

    /// In the zone; in UTC where the local time happens twice.
    [[nodiscard]] std::string time(const char* property, Instant t) const {
        const Instant minute = nearest_minute(t);
        const auto local = zone_.at(minute).local;
        if (!zone_.instant(local)) return fmt::format("{}:{}", property, basic_utc(minute));
        return fmt::format("{};TZID={}:{}", property, id_, basic(local));
    }

    [[nodiscard]] std::string uid(const SheetEvent& e) const {
        const std::string key =
            fmt::format("{}\n{}\n{}\n{}\n{}\n{}\n{}", location_.site.name, name(e.kind), e.mark,
                        e.camera, e.window, e.spot, e.number);
        return fmt::format("{}-{}-{:016x}@keyhour.invalid", name(e.kind), site::iso_date(e.date),
                           hash(key));
    }

    void write_event(const SheetEvent& e) {
        // An event shorter than a minute would end as it begins.
        const Instant to = std::max(e.span.to, e.span.from + Seconds{minute_s});
        std::vector<std::string> body{time("DTSTART", e.span.from), time("DTEND", to),
                                      "SUMMARY:" + escaped_text(e.what)};
        if (!e.detail.empty()) body.push_back("DESCRIPTION:" + escaped_text(e.detail));
        if (!location_.site.name.empty())
            body.push_back("LOCATION:" + escaped_text(location_.site.name));
        body.push_back(fmt::format("GEO:{:.6f};{:.6f}",
                                   location_.site.observer.latitude.in_degrees(),
                                   location_.site.observer.longitude.in_degrees()));
        body.emplace_back("TRANSP:TRANSPARENT");
        add_alarm(e, body);
        const std::string id = uid(e);
        std::string joined;
        for (const std::string& l : body)
            joined += l + '\n';
        int sequence = 0;
        const std::string whole_body = joined;
        if (const auto was = former_.find(id); was != former_.end())
            sequence = was->second.sequence + (was->second.body == whole_body ? 0 : 1);
        line("BEGIN:VEVENT");
        line("UID:" + id);
        line("DTSTAMP:" + basic_utc(Instant::from_unix_s(946684800.0 + sequence)));
        line(fmt::format("SEQUENCE:{}", sequence));
        for (const std::string& l : body)
            line(l);
        line("END:VEVENT");
    }

    void add_alarm(const SheetEvent& e, std::vector<std::string>& body) const {
        const bool is_rigging = e.kind == SheetEvent::Kind::rigging;
        if (!is_rigging && !e.latest) return;
        body.emplace_back("BEGIN:VALARM");
        body.emplace_back("ACTION:DISPLAY");
        body.push_back("DESCRIPTION:" +
                       escaped_text((is_rigging ? "Begin: " : "Begin the set-up: ") + e.what));
        body.push_back(is_rigging
                           ? std::string{"TRIGGER:PT0S"}
                           : "TRIGGER;VALUE=DATE-TIME:" + basic_utc(nearest_minute(*e.latest)));
        body.emplace_back("END:VALARM");
    }

    const site::Location& location_;
    const site::Zone& zone_;
    std::string id_, out_;
    std::map<std::string, Former> former_;
};

}  // namespace

std::string calendar(const std::vector<SheetEvent>& events, const site::Location& location,
                     std::string_view before) {
    return Calendar{location, before}.write(events);
}

}  // namespace keyhour::file
