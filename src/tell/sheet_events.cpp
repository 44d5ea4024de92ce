#include "sheet_events.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>

#include "csv.hpp"
#include "doubt_documents.hpp"
#include "doubt_lines.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/timetable.hpp"
#include "keyhour/version.hpp"
#include "late_light_lines.hpp"
#include "sheet_text.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"

namespace keyhour::tell {
namespace {

using EventKind = SheetEvent::Kind;

class Events {
public:
    explicit Events(const SheetContent& c) : c_{c} {}

    std::vector<SheetEvent> list() {
        for (const study::DayEvent& e : c_.day.strip.day.events)
            add(EventKind::day, study::in_words(e.kind), {e.at, e.at});
        if (c_.room) {
            add_sun_in();
            add_lock();
            add_keys();
            add_covers();
            add_cloth();
        }
        add_spots();
        add_rigging();
        number();
        return std::move(events_);
    }

private:
    SheetEvent& add(EventKind kind, std::string what, const study::Span& span) {
        SheetEvent e;
        e.kind = kind;
        e.date = c_.day.strip.date;
        e.what = std::move(what);
        e.span = span;
        events_.push_back(std::move(e));
        return events_.back();
    }

    void add_sun_in() {
        for (const study::WindowSun& sun : c_.day.strip.windows)
            for (const study::Span& span : sun.stated) {
                const std::string& window = c_.room->room().windows[sun.window].name;
                SheetEvent& e = add(EventKind::sun_in, "Sun through " + window, span);
                e.window = window;
                for (const study::Span& sure : sun.sure)
                    if (sure.from < span.to && span.from < sure.to && !e.sure) e.sure = sure;
            }
    }

    void add_lock() {
        const auto key = lamp_key(c_);
        if (!key || !key->planned.day.lock) return;
        const room::Room& room = c_.room->room();
        const study::LampDayQuestion& q = key->planned.question;
        SheetEvent& e =
            add(EventKind::lock, "Lock: " + lamp_key_who(*key), key->planned.day.lock->lock);
        e.mark = room.marks[q.mark].name;
        e.window = room.windows[q.window].name;
        if (q.camera) e.camera = room.cameras[*q.camera].name;
        if (key->planned.day.span) e.sure = key->planned.day.span->sure;
        for (const std::string& sentence : lamp_key_sentences(*key))
            e.detail += (e.detail.empty() ? "" : "; ") + sentence;
    }

    void add_keys() {
        const room::Room& room = c_.room->room();
        for (const study::KeyInterval& k : c_.day.strip.keys) {
            if (!k.span) continue;
            const std::string &mark = room.marks[k.mark].name,
                              &window = room.windows[k.window].name;
            SheetEvent& e = add(EventKind::key,
                                fmt::format("{}: {} through {}",
                                            c_.day.strip.planned ? "Sun key" : "Key", mark, window),
                                *k.span);
            e.mark = mark;
            e.window = window;
            if (k.camera) e.camera = room.cameras[*k.camera].name;
            e.sure = k.sure;
            e.detail = k.sure ? "at any bearing " + words::clock_inward(*k.sure, zone())
                              : "at no bearing but some within its doubt";
            e.doubt = study::doubt_of(c_.day, k);
            e.detail += "; with every doubt " + cases_words(*e.doubt, zone());
            e.detail += fmt::format("; begins by {}, ends by {}", room::words(k.begins_by, room),
                                    room::words(k.ends_by, room));
            for (const study::CoverSpan& cover : k.to_cover)
                e.detail += fmt::format("; cover {} {}", room.windows[cover.window].name,
                                        words::clock_outward({cover.from, cover.to}, zone()));
        }
    }

    void add_covers() {
        for (const study::CoverNeed& need : c_.day.strip.covers) {
            const std::string& window = c_.room->room().windows[need.window].name;
            add(EventKind::cover, "Covered: " + window, need.span).window = window;
        }
    }

    /// How long it takes to hang is the crew's: the event is short and ends when it must hang.
    void add_cloth() {
        if (!c_.day.lock) return;
        constexpr Seconds shown{300};
        for (const study::CoverToHang& cover : c_.day.lock->covers) {
            const std::string& window = c_.room->room().windows[cover.window].name;
            const study::ClothSize cloth = study::cloth_of(cover, c_.rigging.overlap_m);
            const std::string size =
                words::size(cloth.width_m, cloth.height_m, c_.units, words::Rounding::up);
            SheetEvent& e = add(EventKind::hang, fmt::format("Hang {}: cloth {}", window, size),
                                {cover.sure_by - shown, cover.sure_by});
            e.window = window;
            e.detail = fmt::format(
                "hang by {}; opening {}", words::minute_down(cover.sure_by, zone()),
                words::size(cover.width_m, cover.height_m, c_.units, words::Rounding::up));
        }
    }

    void add_spots() {
        for (std::size_t i = 0; i < c_.day.strip.spots.size(); ++i) {
            const study::SpotDay& spot = c_.day.strip.spots[i];
            const std::string& name = c_.location.spots[i].name;
            for (const study::DirectSpan& s : spot.direct) {
                SheetEvent& e = add(EventKind::direct, "Direct sun: " + name, s.span);
                e.spot = name;
                e.detail = fmt::format("begins by {}, ends by {}", s.begins_by, s.ends_by);
            }
            for (const study::SafeStart& s : spot.for_wanted) {
                SheetEvent& e = add(EventKind::wanted, "Wanted light: " + name, s.light);
                e.spot = name;
                e.latest = s.latest;
                e.detail = set_up_words(s, study::SpotSettings{}.shot, zone());
            }
            add_late_light(spot, c_.location.spots[i]);
        }
    }

    void add_late_light(const study::SpotDay& spot, const site::Spot& place) {
        for (const study::LateLight& l : spot.late_light) {
            if (!l.evening) continue;
            SheetEvent& e = add(EventKind::late_light, "Late light: " + place.name,
                                {l.start, l.end, false, false});
            e.spot = place.name;
            if (const study::SafeStart* best = study::longest(spot.for_late_light))
                e.latest = best->latest;
            e.detail = sun_in_late_light(l, zone());
            const std::string start =
                late_start_words(spot, place.wants, study::SpotSettings{}.shot, zone());
            if (!start.empty()) e.detail += "; " + start;
        }
    }

    void add_rigging() {
        if (!c_.day.ready_by || c_.rigging.tasks.empty()) return;
        const auto sizes = study::crew_sizes(c_.rigging);
        for (const int crew : sizes) {
            if (c_.rigging.crew && *c_.rigging.crew != crew) continue;
            const study::Timetable t = study::count_back(c_.rigging, crew, *c_.day.ready_by);
            if (t.needs_more) continue;
            SheetEvent& e = add(EventKind::rigging, fmt::format("Rigging, crew of {}", crew),
                                {t.start, t.ready_by});
            for (const study::TimedTask& task : t.tasks)
                e.detail += fmt::format("{}{} {}", e.detail.empty() ? "" : "; ",
                                        words::minute_down(task.from, zone()),
                                        c_.rigging.tasks[task.task].name);
            return;
        }
    }

    /// Those alike are numbered by time, so that a name outlives a change of order.
    void number() {
        std::ranges::stable_sort(events_, [](const SheetEvent& a, const SheetEvent& b) {
            return std::pair{a.kind, a.span.from} < std::pair{b.kind, b.span.from};
        });
        std::map<std::string, std::size_t> seen;
        for (SheetEvent& e : events_)
            e.number = ++seen[fmt::format("{}\n{}\n{}\n{}\n{}", name(e.kind), e.mark, e.camera,
                                          e.window, e.spot)];
    }

    [[nodiscard]] const site::Zone& zone() const { return c_.location.site.zone; }

    const SheetContent& c_;
    std::vector<SheetEvent> events_;
};

}  // namespace

const char* name(SheetEvent::Kind kind) noexcept {
    constexpr std::array<const char*, 11> names{"day",        "sun_in",  "lock",   "key",
                                                "cover",      "hang",    "direct", "wanted",
                                                "late_light", "rigging", "scene"};
    return names[static_cast<std::size_t>(kind)];
}

std::vector<SheetEvent> sheet_events(const SheetContent& content) {
    return Events{content}.list();
}

std::string sheet_csv(const std::vector<SheetEvent>& events, const site::Location& location) {
    const site::Zone& zone = location.site.zone;
    std::string out =
        "date,kind,what,mark,camera,window,spot,start_local,end_local,start_utc,end_utc,"
        "length_min,sure_start_utc,sure_end_utc,hold_90_min,hold_50_min,latest_start_utc,detail,"
        "location,source\r\n";
    const auto utc = [](const std::optional<Instant>& t) {
        return t ? site::iso_utc(*t) : std::string{};
    };
    const auto minutes = [](Seconds s) { return fmt::format("{:.2f}", s.count() / 60); };
    const auto words = [](const std::string& text) { return csv_text(text); };
    for (const SheetEvent& e : events) {
        const std::vector<std::string> cells{site::iso_date(e.date),
                                             name(e.kind),
                                             words(e.what),
                                             words(e.mark),
                                             words(e.camera),
                                             words(e.window),
                                             words(e.spot),
                                             site::iso_local(e.span.from, zone),
                                             site::iso_local(e.span.to, zone),
                                             site::iso_utc(e.span.from),
                                             site::iso_utc(e.span.to),
                                             minutes(e.span.length()),
                                             e.sure ? utc(e.sure->from) : std::string{},
                                             e.sure ? utc(e.sure->to) : std::string{},
                                             e.doubt ? minutes(e.doubt->hold_90) : std::string{},
                                             e.doubt ? minutes(e.doubt->hold_50) : std::string{},
                                             utc(e.latest),
                                             words(e.detail),
                                             words(location.site.name),
                                             fmt::format("keyhour light sheet {}", version())};
        for (std::size_t i = 0; i < cells.size(); ++i)
            out += (i == 0 ? "" : ",") + cells[i];
        out += "\r\n";
    }
    return out;
}

}  // namespace keyhour::tell
