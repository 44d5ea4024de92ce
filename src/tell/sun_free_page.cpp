#include "tell/sun_free_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/light_side.hpp"
#include "tell/cautions.hpp"
#include "tell/key_sentences.hpp"
#include "tell/message.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"

namespace keyhour::tell {
namespace {

using Choices = std::vector<const study::LampChoice*>;

/// Windows told in a line each after the best.
constexpr std::size_t usual_others = 3;

/// Which window, mark and camera.
bool is_of_same(const study::SunFreeSpan& a, const study::SunFreeSpan& b) {
    return a.window == b.window && a.mark == b.mark && a.camera == b.camera;
}

/// The first of each window, mark and camera; of those that are not lost at once all.
Choices one_each(const std::vector<study::LampChoice>& choices) {
    Choices out;
    for (const study::LampChoice& c : choices)
        if (std::ranges::none_of(out,
                                 [&](const auto* told) { return is_of_same(told->span, c.span); }))
            out.push_back(&c);
    // The lock's own span stands for its window.
    for (const study::LampChoice*& told : out)
        for (const study::LampChoice& c : choices)
            if (!told->lock && c.lock && is_of_same(told->span, c.span)) told = &c;
    return out;
}

class LampKeyPage {
public:
    LampKeyPage(const LampKeyDate& day, const LampKeyQuestion& q, const study::RoomStudy& study)
        : day_{day},
          q_{q},
          study_{study},
          room_{study.room()},
          zone_{study.location().site.zone},
          lock_{q.settings.lock} {}

    Paragraphs page() {
        Choices told;
        if (q_.all)
            for (const study::LampChoice& c : day_.choices)
                told.push_back(&c);
        else
            told = out_of_frame(one_each(day_.choices));
        if (told.empty()) none();
        for (std::size_t i = 0; i < told.size(); ++i) {
            if (i == 0 || q_.all)
                block(i + 1, *told[i]);
            else if (i <= usual_others)
                line(i + 1, *told[i], *told[0]);
        }
        failed(told);
        return std::move(out_);
    }

    Paragraph row(const study::LampChoice& c, site::LocalDate date) const {
        const study::Span& span = c.span.told();
        std::string text = fmt::format(
            "{} {} {}, {}{}: {}", words::row_date(date),
            words::offset_at(span.from, zone_).substr(3), free_clock(c.span),
            c.span.span ? words::in_minutes(words::promised_length(span)) : "possible only",
            not_at_every_bearing(c) ? ", NOT AT EVERY BEARING" : "",
            room_.windows[c.span.window].name);
        if (room_.marks.size() > 1) text += " on " + room_.marks[c.span.mark].name;
        if (c.span.camera) text += fmt::format(" ({})", room_.cameras[*c.span.camera].name);
        if (c.span.window_in_frame) text += " IN FRAME";
        if (c.lock) text += "; lock " + clock_of(c.lock->lock) + hang(*c.lock);
        return {text, 0, 14};
    }

    Paragraph no_row(site::LocalDate date) const {
        return {words::row_date(date) + " none" + longest(), 0, 14};
    }

    std::string message_line(const study::LampChoice& c) const {
        const std::string& name = study_.location().site.name;
        const study::Span& span = c.span.told();
        return message({fmt::format("no sun through {} {} ", room_.windows[c.span.window].name,
                                    told_span(span, zone_)),
                        fmt::format("{}{}{} {}", name, name.empty() ? "" : ", ",
                                    words::short_date(site::local_date(span.from, zone_)),
                                    words::offset_at(span.from, zone_)),
                        c.span.sure ? ", any bearing " + words::clock_inward(*c.span.sure, zone_)
                                    : ", not at every bearing",
                        c.lock ? ", lock " + clock_of(c.lock->lock) : "",
                        c.lock ? hang(*c.lock) : "", "; mark " + room_.marks[c.span.mark].name});
    }

private:
    void say(std::string text, std::size_t indent = 0) {
        out_.push_back({std::move(text), indent, indent == 0 ? std::size_t{2} : indent + 2});
    }

    /// Free of sun inward, possibly free outward.
    std::string free_clock(const study::SunFreeSpan& s) const {
        return s.span ? words::clock_inward(*s.span, zone_)
                      : words::clock_outward(s.possible, zone_);
    }

    /// Of a lock, which was set.
    std::string clock_of(const study::Span& span) const {
        return words::clock_span(span.from, span.to, zone_);
    }

    [[nodiscard]] bool not_at_every_bearing(const study::LampChoice& c) const {
        if (!c.span.sure || c.span.sure_hold() < lock_) return true;
        return c.lock && (c.lock->lock.from < c.span.sure->from - Seconds{1} ||
                          c.lock->lock.to > c.span.sure->to + Seconds{1});
    }

    /// "; no other sun to cover", "; cover bench window by 14:20, lane window by 15:00".
    std::string hang(const study::LockAnswer& lock) const {
        if (lock.covers.empty()) return "; no other sun to cover";
        std::string text = "; cover ";
        for (const study::CoverToHang& cover : lock.covers)
            text += fmt::format("{}{} by {}", &cover == lock.covers.data() ? "" : ", ",
                                room_.windows[cover.window].name,
                                words::minute_down(cover.sure_by, zone_));
        return text;
    }

    /// The same with the sizes of the cloth.
    std::string hang_in_full(const study::LockAnswer& lock) const {
        if (lock.covers.empty()) return "no other sun to cover meanwhile";
        std::string text =
            fmt::format("cover for it {} of cloth: ",
                        words::area(lock.cover_area_m2(q_.overlap_m), q_.recce.units));
        for (const study::CoverToHang& cover : lock.covers) {
            const study::ClothSize size = study::cloth_of(cover, q_.overlap_m);
            text += fmt::format(
                "{}{} {} by {}", &cover == lock.covers.data() ? "" : ", ",
                room_.windows[cover.window].name,
                words::size(size.width_m, size.height_m, q_.recce.units, words::Rounding::up),
                words::minute_down(cover.sure_by, zone_));
        }
        return text;
    }

    std::string head_of(const study::LampChoice& c) const {
        return who(room_, c.span.window, c.span.mark, c.span.camera) +
               (c.span.window_in_frame ? ", the window stands IN FRAME" : "");
    }

    /// "no sun through it 12:10 to 20:00, 7 h 50 min".
    std::string free_of_sun(const study::SunFreeSpan& s) const {
        if (!s.span)
            return "NOT AT THE BEARING STATED, no sun through it at another within its doubt " +
                   words::clock_outward(s.possible, zone_);
        if (s.whole_day) return "no sun through it on the whole date";
        return fmt::format("no sun through it {}, {}", told_span(*s.span, zone_),
                           words::in_minutes(words::promised_length(*s.span)));
    }

    void block(std::size_t number, const study::LampChoice& c) {
        std::string text = fmt::format("{}. {}: ", number, head_of(c));
        if (c.lock) text += "lock " + clock_of(c.lock->lock) + "; ";
        text += free_of_sun(c.span);
        if (c.span.span && !c.span.whole_day)
            text += c.span.sure ? ", at any bearing " + words::clock_inward(*c.span.sure, zone_)
                                : ", no part of it at every bearing";
        if (c.span.span && not_at_every_bearing(c))
            text += "; NOT AT EVERY BEARING for the " + words::in_minutes(lock_) + " asked";
        out_.push_back({text, 0, 3});
        std::string more = c.lock ? hang_in_full(*c.lock) : std::string{};
        if (c.span.key_angle_deg)
            more += fmt::format("{}key angle {:.0f}, {}", more.empty() ? "" : "; ",
                                std::abs(*c.span.key_angle_deg),
                                study::light_side_in_words(*c.span.key_angle_deg > 0));
        if (!more.empty()) say(more, 3);
        if (c.span.span && (q_.all || q_.show.has(Detail::doubt))) in_full(c.span);
    }

    void in_full(const study::SunFreeSpan& s) {
        say(fmt::format(
                "{}; {}; over all of it {}", band(s.sure, s.possible, zone_),
                edges(s.begins_by, s.ends_by, room_),
                tell::covers(s.to_cover, site::local_date(s.told().from, zone_), room_, zone_)),
            3);
    }

    [[nodiscard]] bool same_lock(const study::LampChoice& a, const study::LampChoice& b) const {
        if (!a.lock || !b.lock) return false;
        return clock_of(a.lock->lock) == clock_of(b.lock->lock) && hang(*a.lock) == hang(*b.lock);
    }

    void line(std::size_t number, const study::LampChoice& c, const study::LampChoice& best) {
        std::string text = fmt::format("{}. {}", number, room_.windows[c.span.window].name);
        if (room_.marks.size() > 1) text += " on " + room_.marks[c.span.mark].name;
        if (c.span.camera) text += fmt::format(" ({})", room_.cameras[*c.span.camera].name);
        if (c.span.window_in_frame) text += " IN FRAME";
        text +=
            fmt::format(": {}{}, {}", c.span.span ? "free " : "possible only ", free_clock(c.span),
                        same_lock(c, best) ? "same lock and cloth"
                        : c.lock           ? "lock " + clock_of(c.lock->lock) + hang(*c.lock)
                                           : "no whole lock in it");
        if (c.span.span && not_at_every_bearing(c)) text += "; NOT AT EVERY BEARING";
        out_.push_back({text, 0, 3});
    }

    /// Windows in frame fail, unless nothing else is left.
    Choices out_of_frame(Choices all) const {
        Choices out;
        std::ranges::copy_if(all, std::back_inserter(out),
                             [](const auto* c) { return !c->span.window_in_frame; });
        return out.empty() ? all : out;
    }

    std::string longest() const {
        const study::LampChoice* most = nullptr;
        for (const study::LampChoice& c : day_.shorter)
            if (c.span.span && (!most || c.span.hold() > most->span.hold())) most = &c;
        if (!most) return {};
        return fmt::format("; the longest is {}, {}: {}",
                           words::in_minutes(words::promised_length(*most->span.span)),
                           free_clock(most->span),
                           who(room_, most->span.window, most->span.mark, most->span.camera));
    }

    void none() { say("NO SUCH SPAN on this date" + longest()); }

    /// What failed, half a line each: in frame, too short, no straight line, hung.
    void failed(const Choices& told) {
        std::vector<std::string> reasons;
        for (std::size_t w = 0; w < room_.windows.size(); ++w) {
            const room::Window& window = room_.windows[w];
            if (q_.settings.window && window.name != *q_.settings.window) continue;
            if (std::ranges::any_of(told, [&](const auto* c) { return c->span.window == w; }))
                continue;
            reasons.push_back(fmt::format("{} ({})", window.name, reason(w)));
        }
        const std::size_t shown = std::min(told.size(), 1 + usual_others);
        std::string text;
        if (!reasons.empty() && !told.empty())
            text = fmt::format("not by: {}", fmt::join(reasons, ", "));
        if (!q_.all && shown < day_.choices.size())
            text += fmt::format("{}{} more by window, mark and span: --all",
                                text.empty() ? "" : "; ", day_.choices.size() - shown);
        if (!text.empty()) say(text);
    }

    std::string reason(std::size_t window) const {
        if (!study::lets_sun_in(room_.windows[window]))
            return room_.windows[window].cover == room::Cover::sheer ? "sheer" : "blackout";
        bool in_frame = false, faces = false;
        for (const study::LampChoice& c : day_.choices)
            in_frame = in_frame || (c.span.window == window && c.span.window_in_frame);
        if (in_frame) return "IN FRAME";
        for (std::size_t m = 0; m < room_.marks.size(); ++m)
            if (!q_.settings.mark || room_.marks[m].name == *q_.settings.mark)
                faces = faces || study_.scene().faces(window, m);
        if (!faces) return "no straight line";
        const study::SunFreeSpan* most = nullptr;
        for (const study::LampChoice& c : day_.shorter)
            if (c.span.window == window && (!most || c.span.hold() > most->hold())) most = &c.span;
        if (!most) return "sun all the time";
        return fmt::format("{} at most", words::in_minutes(most->hold()));
    }

    const LampKeyDate& day_;
    const LampKeyQuestion& q_;
    const study::RoomStudy& study_;
    const room::Room& room_;
    const site::Zone& zone_;
    Seconds lock_;
    Paragraphs out_;
};

}  // namespace

Paragraphs sun_free_head(const LampKeyQuestion& q) {
    Paragraphs out = opening(q.location, q.recce, q.dates);
    std::string hours = "at any hour";
    if (q.settings.earliest && q.settings.latest) {
        const auto clock = [](Seconds s) {
            const auto min = static_cast<int>(s.count() / 60);
            return fmt::format("{:02}:{:02}", min / 60, min % 60);
        };
        hours = fmt::format("between {} and {}", clock(*q.settings.earliest),
                            clock(*q.settings.latest));
    }
    out.push_back(
        {fmt::format("lamp outside a window, lock of {} {}{}", words::in_minutes(q.settings.lock),
                     hours, q.settings.as_is ? ", nothing covered" : "")});
    return out;
}

Paragraphs sun_free_date(const LampKeyDate& day, const LampKeyQuestion& q,
                         const study::RoomStudy& study, site::LocalDate date) {
    LampKeyPage page{day, q, study};
    if (!q.dates.is_range) return page.page();
    if (day.choices.empty()) return {page.no_row(date)};
    Paragraphs out;
    if (!q.all) return {page.row(*one_each(day.choices).front(), date)};
    for (const study::LampChoice& c : day.choices)
        out.push_back(page.row(c, date));
    return out;
}

Paragraphs sun_free_foot(const site::Location& location) {
    return {{"any bearing: within the doubt, " +
             wall_in_brief(*location.room, location.room->bearing.wall)},
            {lamp_outside_caution, 0, 0}};
}

std::vector<std::string> sun_free_messages(const std::vector<study::LampChoice>& choices,
                                           const LampKeyQuestion& q,
                                           const study::RoomStudy& study) {
    std::vector<std::string> out;
    const LampKeyDate none;
    const LampKeyPage page{none, q, study};
    if (q.all)
        for (const study::LampChoice& c : choices)
            out.push_back(page.message_line(c));
    else if (!choices.empty())
        out.push_back(page.message_line(*one_each(choices).front()));
    return out;
}

}  // namespace keyhour::tell
