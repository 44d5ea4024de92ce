#include "tell/sun_free_page.hpp"

#include <fmt/format.h>

#include <cmath>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/light_side.hpp"
#include "tell/cautions.hpp"
#include "tell/key_sentences.hpp"
#include "tell/message.hpp"
#include "words/clock.hpp"

namespace keyhour::tell {
namespace {

const study::Span& told(const study::SunFreeSpan& s) {
    return s.span ? *s.span : s.possible;
}

/// Windows that no straight line joins to a mark, and those that are hung.
Paragraphs left_out(const study::RoomStudy& study) {
    const room::Room& room = study.room();
    Paragraphs out;
    for (std::size_t w = 0; w < room.windows.size(); ++w) {
        const std::string& name = room.windows[w].name;
        if (!study::lets_sun_in(room.windows[w])) {
            out.push_back({"left out, as no lamp shines through its cover: " + name});
            continue;
        }
        for (std::size_t mark = 0; mark < room.marks.size(); ++mark)
            if (!study.scene().faces(w, mark))
                out.push_back({fmt::format("left out, as no straight line leads from it to {}: {}",
                                           room.marks[mark].name, name)});
    }
    return out;
}

/// From where a lamp's light would come through the middle of the window.
std::string lamp_side(const study::SunFreeSpan& s) {
    if (!s.key_angle_deg) return {};
    return fmt::format("; from the middle of the window key angle {:.0f}, {}{}",
                       std::abs(*s.key_angle_deg), study::light_side_in_words(*s.key_angle_deg > 0),
                       s.window_in_frame ? ", the window stands IN FRAME" : "");
}

void add_block(std::size_t number, const study::SunFreeSpan& s, Seconds lock,
               const study::RoomStudy& study, Paragraphs& out) {
    const site::Zone& zone = study.location().site.zone;
    const room::Room& room = study.room();
    out.push_back(
        {fmt::format("{}. {} {}: {}", number,
                     s.span ? "free " + words::in_minutes(words::clock_length(*s.span))
                            : "NOT SURE, possible only,",
                     s.span ? told_span(*s.span, zone) : words::clock_outward(s.possible, zone),
                     who(room, s.window, s.mark, s.camera)) +
             (s.whole_day ? "; no sun through it on the whole date" : ""),
         0, 3});
    if (s.span)
        out.push_back(
            {band(s.sure, s.possible, zone) +
                 (s.sure_hold() < lock ? "; NOT SURE for the " + words::in_minutes(lock) + " asked"
                                       : ""),
             3, 5});
    out.push_back(
        {fmt::format("{}; {}{}",
                     s.span ? edges(s.begins_by, s.ends_by, room)
                            : std::string{"at another bearing within the doubt: check it"},
                     covers(s.to_cover, site::local_date(told(s).from, zone), room, zone),
                     lamp_side(s)),
         3, 5});
}

Paragraph row(const study::SunFreeSpan& s, Seconds lock, const study::RoomStudy& study) {
    const site::Zone& zone = study.location().site.zone;
    const study::Span& span = told(s);
    std::string text = fmt::format(
        "{} {} {}, {}{}: {}", words::row_date(site::local_date(span.from, zone)),
        words::offset_at(span.from, zone).substr(3), words::clock_span(span.from, span.to, zone),
        s.span ? words::in_minutes(words::clock_length(span)) : "possible only",
        s.span && s.sure_hold() < lock ? ", NOT SURE" : "", study.room().windows[s.window].name);
    if (study.room().marks.size() > 1) text += " on " + study.room().marks[s.mark].name;
    if (s.camera) text += fmt::format(" ({})", study.room().cameras[*s.camera].name);
    if (!s.to_cover.empty()) text += ", with covers";
    return {text, 0, 14};
}

}  // namespace

Paragraphs sun_free_head(const site::Location& location, const site::Recce& recce,
                         const Dates& dates, const study::RoomStudy& study, Seconds lock) {
    Paragraphs out = opening(location, recce, dates);
    out.push_back(
        {fmt::format("spans of {} or more without direct sun through the window that the "
                     "lamp stands at",
                     words::in_minutes(lock))});
    for (Paragraph& p : left_out(study))
        out.push_back(std::move(p));
    return out;
}

Paragraphs sun_free_date(const std::vector<study::SunFreeSpan>& spans,
                         const study::RoomStudy& study, Seconds lock, bool is_range) {
    Paragraphs out;
    for (std::size_t i = 0; i < spans.size(); ++i)
        if (is_range)
            out.push_back(row(spans[i], lock, study));
        else
            add_block(i + 1, spans[i], lock, study, out);
    return out;
}

Paragraph no_sun_free_span(const study::SunFreeSpan* longest, const study::RoomStudy& study,
                           site::LocalDate date, bool is_range) {
    std::string text = is_range ? words::row_date(date) + " none" : "NO SUCH SPAN on this date";
    if (longest && longest->span)
        text += fmt::format(
            "; the longest is {}, {}: {}", words::in_minutes(longest->hold()),
            words::clock_span(longest->span->from, longest->span->to, study.location().site.zone),
            who(study.room(), longest->window, longest->mark, longest->camera));
    return {text, 0, is_range ? std::size_t{14} : std::size_t{2}};
}

Paragraphs sun_free_foot(const site::Location& location) {
    return {{"sure at any bearing within that: " +
             wall_in_brief(*location.room, location.room->bearing.wall)},
            {lamp_outside_caution, 0, 0}};
}

std::string sun_free_message(const study::SunFreeSpan& s, const study::RoomStudy& study) {
    const site::Zone& zone = study.location().site.zone;
    const room::Room& room = study.room();
    const std::string& name = study.location().site.name;
    const study::Span& span = told(s);
    return message(
        {fmt::format("no sun through {} {} ", room.windows[s.window].name, told_span(span, zone)),
         fmt::format("{}{}{} {}", name, name.empty() ? "" : ", ",
                     words::short_date(site::local_date(span.from, zone)),
                     words::offset_at(span.from, zone)),
         s.sure ? ", sure " + words::clock_inward(*s.sure, zone) : ", no part sure",
         s.to_cover.empty()
             ? ""
             : "; " + covers(s.to_cover, site::local_date(span.from, zone), room, zone),
         "; mark " + room.marks[s.mark].name});
}

}  // namespace keyhour::tell
