#include "tell/lock_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/sun_in_room.hpp"
#include "tell/cautions.hpp"
#include "tell/lamp_key_sentences.hpp"
#include "tell/message.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"

namespace keyhour::tell {
namespace {

class LockPage {
public:
    LockPage(const study::LockAnswer& answer, const LockQuestion& q)
        : a_{answer}, q_{q}, room_{*q.location.room}, zone_{q.location.site.zone} {}

    Paragraphs page() {
        say(headline());
        for (const study::CoverToHang& cover : a_.covers)
            window(cover.window, &cover);
        if (a_.key_window && leaks(*a_.key_window)) window(*a_.key_window, nullptr);
        for (const study::LitSheer& lit : a_.lit_sheers)
            say(
                fmt::format("{}, a sheer: sun on it {} changes the level; black it out if that "
                            "shows",
                            name(lit.window), words::clock_outward(lit.span, zone_)));
        taken_as_covered();
        return std::move(out_);
    }

    /// "press window by 10:00", each; sun through the key window first.
    std::vector<std::string> to_hang() const {
        std::vector<std::string> list;
        if (a_.key_window && leaks(*a_.key_window))
            list.push_back("SUN THROUGH THE KEY WINDOW " + name(*a_.key_window));
        for (const study::CoverToHang& cover : a_.covers)
            list.push_back(fmt::format("{}{} by {}", &cover == a_.covers.data() ? "cover " : "",
                                       name(cover.window),
                                       words::minute_down(cover.sure_by, zone_)));
        if (list.empty()) list.emplace_back("nothing to cover");
        return list;
    }

    std::string clock() const {
        std::string text = words::clock_span(a_.lock.from, a_.lock.to, zone_);
        const std::string offsets = words::offsets_over(a_.lock.from, a_.lock.to, zone_);
        const Instant noon = zone_.start_of(site::local_date(a_.lock.from, zone_)) + Seconds{43200};
        if (offsets != words::offset_at(noon, zone_)) text += " (" + offsets + ")";
        return text;
    }

private:
    void say(std::string text, std::size_t indent = 0) {
        out_.push_back({std::move(text), indent, indent + 2});
    }

    const std::string& name(std::size_t window) const { return room_.windows[window].name; }

    bool leaks(std::size_t window) const {
        return std::ranges::any_of(a_.leaks,
                                   [&](const study::Leak& l) { return l.window == window; });
    }

    std::string headline() const {
        std::string text = fmt::format("lock {}, {}", clock(), words::in_minutes(a_.lock.length()));
        if (q_.was_placed) text += " (the best place: least to cover, least sun on it, earliest)";
        if (a_.covers.empty())
            return text + (a_.leaks.empty()
                               ? ": nothing to cover, no direct sun by an open window of the file"
                               : ": nothing to cover but the key window, which stays open");
        return text + fmt::format(": cover {} window{}, {} of cloth, before it begins",
                                  a_.covers.size(), a_.covers.size() == 1 ? "" : "s",
                                  words::area(a_.cover_area_m2(q_.overlap_m), q_.recce.units));
    }

    std::string by(const study::CoverToHang& cover) const {
        const std::string sure = words::minute_down(cover.sure_by, zone_);
        if (!cover.needed_by) return "by " + sure + " to be safe";
        if (*cover.needed_by - cover.sure_by > Seconds{60})
            return fmt::format("by {} to be safe, {} at the stated bearing", sure,
                               words::minute_down(*cover.needed_by, zone_));
        return "by " + sure;
    }

    /// "10:00 to 10:17", "all through the lock", "possible 10:00 to 10:03".
    std::string when(const study::Leak& leak) const {
        if (!leak.span) return "possible " + words::clock_outward(leak.possible, zone_);
        if (leak.begins_by.kind == room::Edge::none && leak.ends_by.kind == room::Edge::none)
            return "all through the lock";
        return words::clock_outward(*leak.span, zone_);
    }

    std::string cloth(const study::CoverToHang& cover) const {
        const study::ClothSize size = study::cloth_of(cover, q_.overlap_m);
        return words::size(size.width_m, size.height_m, q_.recce.units, words::Rounding::up);
    }

    /// A window that lets sun in: its cover, the times, where it lands.
    /// @param cover  null for the key window
    void window(std::size_t w, const study::CoverToHang* cover) {
        std::string times, lands;
        std::vector<std::string> marks, cameras, surfaces;
        const auto add = [](std::vector<std::string>& list, const std::string& word) {
            if (std::ranges::find(list, word) == list.end()) list.push_back(word);
        };
        for (const study::Leak& leak : a_.leaks) {
            if (leak.window != w) continue;
            times += (times.empty() ? "" : ", ") + when(leak);
            for (const std::size_t mark : leak.marks)
                add(marks, room_.marks[mark].name);
            for (const std::size_t camera : leak.cameras)
                add(cameras, room_.cameras[camera].name);
            for (const room::Surface& surface : leak.surfaces)
                add(surfaces, room::words(surface, room_));
        }
        if (!marks.empty()) lands = fmt::format("REACHES {}", fmt::join(marks, ", "));
        if (!cameras.empty())
            lands += fmt::format("{}in frame of {}", lands.empty() ? "" : ", ",
                                 fmt::join(cameras, ", "));
        if (lands.empty()) lands = fmt::format("on {}", fmt::join(surfaces, ", "));
        say(cover ? fmt::format("{}, cloth {}, {}: sun {}; {}", name(w), cloth(*cover), by(*cover),
                                times, lands)
                  : fmt::format("{}, the KEY WINDOW, can't be covered: sun {}; {}", name(w), times,
                                lands));
        if (q_.show.has(Detail::doubt))
            for (const study::Leak& leak : a_.leaks)
                if (leak.window == w) in_full(leak);
    }

    /// Edges, possible times and surfaces.
    void in_full(const study::Leak& leak) {
        const auto said = [&](const room::LimitingEdge& edge, const char* bound) {
            return edge.kind == room::Edge::none ? std::string{bound} : room::words(edge, room_);
        };
        std::string text;
        if (leak.span)
            text = fmt::format(
                "{}, begins by {}, ends by {}; ", words::span_outward(*leak.span, zone_),
                said(leak.begins_by, "the lock's start"), said(leak.ends_by, "the lock's end"));
        text += "possible " + words::span_outward(leak.possible, zone_);
        std::vector<std::string> lands;
        for (const room::Surface& surface : leak.surfaces)
            lands.push_back(room::words(surface, room_));
        if (!lands.empty()) text += fmt::format("; lands on {}", fmt::join(lands, ", "));
        say(text, 2);
    }

    /// Windows that count as covered already; sheers that the sun lights are told by themselves.
    void taken_as_covered() {
        std::vector<std::string> covered;
        for (std::size_t w = 0; w < room_.windows.size(); ++w) {
            const bool told = std::ranges::any_of(
                a_.lit_sheers, [&](const study::LitSheer& s) { return s.window == w; });
            if (!study::lets_sun_in(room_.windows[w]) && !told)
                covered.push_back(name(w) + (room_.windows[w].cover == room::Cover::sheer
                                                 ? " (sheer)"
                                                 : " (blackout)"));
        }
        if (!covered.empty()) say(fmt::format("taken as covered: {}", fmt::join(covered, ", ")));
    }

    const study::LockAnswer& a_;
    const LockQuestion& q_;
    const room::Room& room_;
    const site::Zone& zone_;
    Paragraphs out_;
};

}  // namespace

Paragraphs lock_page(const study::LockAnswer& answer, const LockQuestion& q) {
    return LockPage{answer, q}.page();
}

Paragraphs lock_key_page(const study::PlannedLock& planned, const study::RoomStudy& study,
                         const LockQuestion& q) {
    const LampKey key{planned, study, q.overlap_m, q.recce.units};
    Paragraphs out;
    for (const std::string& sentence : lamp_light_sentences(key))
        out.push_back({out.empty() ? lamp_key_who(key) + ": " + sentence : sentence});
    if (q.show.has(Detail::hours))
        for (const study::LampHour& hour : planned.day.hours)
            out.push_back({lamp_key_hour(key, hour), 2, 4});
    return out;
}

Paragraph lock_row(const study::LockAnswer& answer, const LockQuestion& q, site::LocalDate date) {
    const LockPage page{answer, q};
    return {fmt::format("{} {}: {}", words::row_date(date), page.clock(),
                        fmt::join(page.to_hang(), ", ")),
            0, 14};
}

std::string lock_message(const study::LockAnswer& answer, const LockQuestion& q) {
    const LockPage page{answer, q};
    const site::Zone& zone = q.location.site.zone;
    const std::string& name = q.location.site.name;
    const std::string head =
        fmt::format("{}{}{} {}", name, name.empty() ? "" : ", ",
                    words::short_date(site::local_date(answer.lock.from, zone)),
                    words::offset_at(answer.lock.from, zone));
    return message_of_list(fmt::format("lock {} {}", page.clock(), head), page.to_hang());
}

Paragraphs lock_foot(const LockQuestion& q, bool any_cover, bool any_lamp) {
    Paragraphs out{{"to be safe: at any bearing, as " +
                    wall_in_brief(*q.location.room, q.location.room->bearing.wall)}};
    if (any_cover) {
        out.push_back({fmt::format("cloth: the clear opening and {} on every side",
                                   words::length(q.overlap_m, q.recce.units))});
        out.push_back({cloth_caution, 0, 0});
    }
    if (any_lamp) out.push_back({lamp_outside_caution, 0, 0});
    return out;
}

}  // namespace keyhour::tell
