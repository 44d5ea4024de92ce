#include "strip_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "labels.hpp"
#include "strip_hours.hpp"
#include "title_block.hpp"
#include "words/clock.hpp"
#include "words/late_light.hpp"

namespace keyhour::draw {
namespace {

using study::DayEventKind;
using study::Span;

constexpr double kRow = 7.6, kBar = 3, kHead = 12;
/// From a bar to the line on which its times stand.
constexpr double kTimes = 2.75;
bool is_sunless(const study::WindowSun& w) {
    return w.possible.empty() && w.stated.empty();
}

/// Of light from the side that a spot wants, and of covers.
constexpr Hatch kWanted{90, 1.1, 0.3}, kCover{0, 1.0, 0.25, Hatch::Kind::crossed};

/// Of late light while the sun is over the site's own horizon.
constexpr Hatch kSun{45, 1.4, 0.3};

/// Of late light, and of light that a spot's shot may use.
const Stroke kToShootIn{pen::opening, "", "#fff"};

class Strip {
public:
    Strip(const site::Location& location, const study::DayStrip& strip, const DrawingFrame& frame)
        : location_{location},
          strip_{strip},
          frame_{frame},
          narrow_{frame.width_mm < 130},
          svg_{frame, "Light of the day at " + location.site.name, strip_in_words(strip, location)},
          fills_{certainty_fills()} {
        const auto [from, to] = hours_shown(strip);
        scale_.from = from;
        scale_.to = to;
        scale_.left_mm = narrow_ ? 5 : 52;
        scale_.mm_per_h =
            (frame.width_mm - 5 - scale_.left_mm) / std::max((to - from).count() / 3600, 1.0);
        scale_.top_mm = y_ = kHead;
    }

    /// @param bottom  of the rows, as an earlier drawing of the same found it
    StripDrawing draw(double bottom) {
        draw_hours(bottom);
        draw_sky();
        for (const study::WindowSun& w : strip_.windows)
            if (!is_sunless(w)) draw_window(w);
        draw_sunless();
        draw_lock();
        draw_keys();
        draw_covers();
        for (std::size_t i = 0; i < strip_.spots.size(); ++i)
            draw_spot(location_.spots[i], strip_.spots[i]);
        scale_.bottom_mm = y_;
        svg_.begin_group("now");
        svg_.end_group();
        for (const Text& t : texts_)
            svg_.text(t.at, t.text, t.style);
        const double foot = draw_title_block(svg_, y_ + 6, block());
        return {svg_.finish(foot), scale_, frame_.width_mm, foot};
    }

private:
    [[nodiscard]] TitleBlock block() const;
    [[nodiscard]] std::string clock(Instant t) const {
        return site::whole_minutes(t, location_.site.zone);
    }
    [[nodiscard]] double x(Instant t) const {
        return scale_.x(std::clamp(t, scale_.from, scale_.to));
    }
    [[nodiscard]] std::string name(std::size_t window) const {
        return location_.room->windows[window].name;
    }
    /// Texts come last: the slider's line runs behind them.
    void write(Point2 at, const std::string& text, const TextStyle& style) {
        texts_.push_back({at, text, style});
    }
    void bar(const Span& span, const Stroke& stroke, double inset = 0);
    void certain(const std::vector<Span>& possible, const std::vector<Span>& stated,
                 const std::vector<Span>& sure);
    /// How the ends of a span become whole minutes: nearest, inward for a promise, outward for
    /// trouble.
    using Rounding = std::string (*)(const Span&, const site::Zone&);
    void times(const std::vector<Span>& spans, Rounding rounding);
    void words(const std::string& first, const std::string& text);
    void start_row(const std::string& first, const std::string& second);
    void end_row() { y_ += kRow; }
    void draw_hours(double bottom);
    void draw_offsets(const std::vector<std::pair<double, std::string>>& offsets);
    void draw_sky();
    void tick_sun();
    void draw_late_light();
    void draw_window(const study::WindowSun& w);
    void draw_sunless();
    void draw_lock();
    void draw_keys();
    void draw_covers();
    void draw_covers(const std::vector<study::CoverNeed>& covers, const char* what);
    void draw_spot(const site::Spot& spot, const study::SpotDay& day);
    void tick(Instant t, const std::string& text);

    const site::Location& location_;
    const study::DayStrip& strip_;
    const DrawingFrame& frame_;
    bool narrow_;
    Svg svg_;
    CertaintyFills fills_;
    StripScale scale_;
    double y_ = 0;
    double bar_top_ = 0;
    struct Text {
        Point2 at;
        std::string text;
        TextStyle style;
    };
    std::vector<Text> texts_;
    bool has_safe_start_ = false;  ///< of a spot
};

/// A row: its words to the left of it, or above it in a narrow drawing.
void Strip::start_row(const std::string& first, const std::string& second) {
    svg_.line({narrow_ ? 3 : 2.5, y_}, {svg_.width() - 3, y_}, {pen::fine});
    if (narrow_) {
        const std::string text =
            first.empty() || second.empty() ? first + second : first + ": " + second;
        write({scale_.left_mm, y_ + 3.4},
              fitted(text, letters::small, svg_.width() - scale_.left_mm - 4),
              {letters::small, Anchor::start, false, true});
        y_ += 4;
    } else {
        const double wide = scale_.left_mm - 5;
        write({3, y_ + 2.8}, fitted(first, letters::small, wide, true),
              {letters::small, Anchor::start, true});
        write({3, y_ + (first.empty() ? 3.4 : 6.0)}, fitted(second, letters::small, wide),
              {letters::small});
    }
    bar_top_ = y_ + 0.8;
}

void Strip::bar(const Span& span, const Stroke& stroke, double inset) {
    if (span.to <= scale_.from || span.from >= scale_.to) return;
    svg_.rect(x(span.from), bar_top_ + inset, std::max(x(span.to) - x(span.from), 0.3),
              kBar - 2 * inset, stroke);
}

void Strip::certain(const std::vector<Span>& possible, const std::vector<Span>& stated,
                    const std::vector<Span>& sure) {
    for (const Span& s : possible)
        bar(s, fills_.possible);
    for (const Span& s : stated)
        bar(s, {pen::thin, "", "#fff"});
    for (const Span& s : stated)
        bar(s, fills_.stated);
    for (const Span& s : sure)
        bar(s, fills_.sure);
}

/// The clock times of the spans under their bars, as far as there is room.
void Strip::times(const std::vector<Span>& spans, Rounding rounding) {
    double free_from = scale_.left_mm - 2;
    const double right = svg_.width() - 2;
    for (const Span& s : spans) {
        const bool whole = s.from <= strip_.from && s.to >= strip_.to;
        const std::string text = whole ? "all day" : rounding(s, location_.site.zone);
        const double w = text_width(text, letters::small);
        double left = std::clamp((x(s.from) + x(s.to) - w) / 2, scale_.left_mm, right - w);
        // Beside the one before, if that is still near its own bar.
        left = std::max(left, free_from);
        if (left + w > right || left > x(s.to) + 1) continue;
        write({left, bar_top_ + kBar + kTimes}, text, {letters::small, Anchor::start, false, true});
        free_from = left + w + 1.5;
    }
}

/// Under the rows, so that no line runs through their figures.
void Strip::draw_hours(double bottom) {
    svg_.line({narrow_ ? 3 : 2.5, bottom}, {svg_.width() - 3, bottom}, {pen::fine});
    const double every = scale_.mm_per_h >= 7 ? 1 : scale_.mm_per_h >= 4 ? 2 : 3;
    const site::Zone& zone = location_.site.zone;
    std::vector<std::pair<double, std::string>> offsets;
    for (Instant t = scale_.from; t <= scale_.to; t = t + Seconds{1800}) {
        const auto reading = zone.at(t);
        const auto since = reading.local - date::floor<date::days>(reading.local);
        if (since.count() % 3600 != 0) continue;
        const auto hour = since.count() / 3600;
        const bool named = hour % static_cast<long>(every) == 0;
        svg_.line({x(t), scale_.top_mm - (named ? 1.6 : 0.8)}, {x(t), bottom + (named ? 1.6 : 0.8)},
                  {pen::fine, "0.3 1.2"});
        if (!named) continue;
        for (const double y : {scale_.top_mm - 2.4, bottom + 4.4})
            write({x(t), y}, fmt::format("{:02}", hour), {letters::small, Anchor::middle});
        if (const std::string here = site::utc_offset(reading.utc_offset);
            offsets.empty() || here != offsets.back().second)
            offsets.emplace_back(x(t), here);
    }
    draw_offsets(offsets);
}

/// Over the hours: the offset at the left; where it steps within what is shown, the next one there.
/// That the clocks change is told either way.
void Strip::draw_offsets(const std::vector<std::pair<double, std::string>>& offsets) {
    for (std::size_t i = 0; i < offsets.size(); ++i) {
        std::string text = offsets[i].second;
        if (i + 1 == offsets.size() && !strip_.clock_changes.empty())
            text += ", " + change_in_words(strip_.clock_changes.front(), narrow_);
        const double left = i == 0 ? scale_.left_mm - 2 : offsets[i].first;
        const double widest = svg_.width() - 3 - text_width(text, letters::small, true);
        write({std::min(left, widest), scale_.top_mm - 6.2}, text,
              {letters::small, Anchor::start, true});
    }
}

// --- the sky ------------------------------------------------------------------------------------

void Strip::tick(Instant t, const std::string& text) {
    write({x(t), bar_top_ + kBar + kTimes}, text, {letters::small, Anchor::middle, false, true});
}

/// Night black, twilights lighter step by step, the day white; rise and set by their times.
void Strip::draw_sky() {
    start_row("sky", "night, twilights, day");
    const Fill fills[] = {"#000", Hatch{45, 0.9, 0.32, Hatch::Kind::crossed}, Hatch{45, 1.1, 0.25}};
    const DayEventKind dawns[] = {DayEventKind::nautical_dawn, DayEventKind::civil_dawn,
                                  DayEventKind::rise};
    const DayEventKind dusks[] = {DayEventKind::nautical_dusk, DayEventKind::civil_dusk,
                                  DayEventKind::set};
    bar({scale_.from, scale_.to, false, false}, {pen::thin, "", "#fff"});
    // Darkest last: each lies from the edge of what is shown to its own event.
    for (int i = 2; i >= 0; --i) {
        if (const auto* e = event(strip_.day, dawns[i])) {
            bar({scale_.from, e->at, false, false}, {pen::thin, "", "#fff"});
            bar({scale_.from, e->at, false, false}, {pen::thin, "", fills[i]});
        }
        if (const auto* e = event(strip_.day, dusks[i])) {
            bar({e->at, scale_.to, false, false}, {pen::thin, "", "#fff"});
            bar({e->at, scale_.to, false, false}, {pen::thin, "", fills[i]});
        }
    }
    tick_sun();
    end_row();
    y_ += narrow_ ? 0.6 : 0;
    draw_late_light();
}

/// Rise, transit and set by their times, as far as they leave each other room.
void Strip::tick_sun() {
    double free_from = 0;
    for (const auto& [kind, word] :
         std::map<DayEventKind, const char*>{{DayEventKind::rise, "rise"},
                                             {DayEventKind::transit, "transit"},
                                             {DayEventKind::set, "set"}})
        if (const auto* e = event(strip_.day, kind)) {
            const std::string text = fmt::format("{} {}", word, clock(e->at));
            const double half = text_width(text, letters::small) / 2;
            if (x(e->at) - half < free_from) continue;
            tick(e->at, text);
            free_from = x(e->at) + half + 1;
        }
}

void Strip::draw_late_light() {
    if (strip_.day.late_light.empty()) return;
    std::string sun = "by the sun's altitude";
    for (const study::LateLight& l : strip_.day.late_light)
        if (l.evening) sun = "evening: " + words::sun_in_short(l, location_.site.zone);
    start_row("late light", sun);
    std::vector<Span> spans;
    for (const study::LateLight& l : strip_.day.late_light) {
        spans.push_back({l.start, l.end, false, false});
        bar(spans.back(), kToShootIn);
        for (const study::LateStretch& s : l.stretches)
            if (s.in_sun) bar(s.span, {pen::thin, "", kSun});
    }
    times(spans, words::clock_inward);
    end_row();
}

// --- the room -----------------------------------------------------------------------------------

void Strip::draw_window(const study::WindowSun& w) {
    const room::Window& window = location_.room->windows[w.window];
    std::string what = "sun in";
    if (window.cover == room::Cover::sheer) what = "sun on its sheer";
    if (window.cover == room::Cover::blackout) what = "sun on its blackout";
    start_row(window.name, what);
    certain(w.possible, w.stated, w.sure);
    times(w.stated, words::clock_nearest);
    end_row();
}

/// All windows without sun in one row of words.
void Strip::draw_sunless() {
    std::string names;
    for (const study::WindowSun& w : strip_.windows)
        if (is_sunless(w)) names += (names.empty() ? "" : ", ") + name(w.window);
    if (names.empty()) return;
    words("no sun in", names);
}

/// A row without a bar.
void Strip::words(const std::string& first, const std::string& text) {
    svg_.line({narrow_ ? 3 : 2.5, y_}, {svg_.width() - 3, y_}, {pen::fine});
    const TextStyle bold{letters::small, Anchor::start, !narrow_, true};
    const TextStyle plain{letters::small, Anchor::start, false, true};
    const double left = narrow_ ? scale_.left_mm : 3;
    const std::string head = first + (narrow_ ? ":" : "");
    const double indent = left + text_width(head, letters::small, !narrow_) + 1;
    double y = y_ + 3.4;
    write({left, y}, head, bold);
    for (const std::string& line : wrapped(text, letters::small, svg_.width() - indent - 4)) {
        write({indent, y}, line, plain);
        y += 3.5;
    }
    y_ = y - 3.5 + 1.4;
}

/// The lock as a black bar; under it the spans in which no sun comes through its window.
void Strip::draw_lock() {
    if (!strip_.planned) return;
    const study::LampDay& day = strip_.planned->day;
    const std::string through = "lamp through " + name(strip_.planned->question.window);
    if (!day.lock) return words("LOCK", "longer than the hours of this date");
    start_row("LOCK " + location_.room->marks[strip_.planned->question.mark].name, through);
    bar(day.lock->lock, {pen::thin, "", "#000"});
    times({day.lock->lock}, words::clock_nearest);
    end_row();
    std::vector<Span> possible, stated, sure;
    for (const study::SunFreeSpan& s : day.spans) {
        possible.push_back(s.possible);
        if (s.span) stated.push_back(*s.span);
        if (s.sure) sure.push_back(*s.sure);
    }
    if (possible.empty()) return words("WITHOUT SUN", "no span there holds the lock");
    std::ranges::sort(stated, {}, &Span::from);
    start_row("", "without sun there");
    certain(possible, stated, sure);
    times(stated, words::clock_inward);
    end_row();
}

void Strip::draw_keys() {
    std::map<std::tuple<std::size_t, std::size_t, std::size_t>,
             std::vector<const study::KeyInterval*>>
        rows;
    for (const study::KeyInterval& k : strip_.keys)
        rows[{k.mark, k.window, k.camera ? *k.camera + 1 : 0}].push_back(&k);
    for (const auto& [who, intervals] : rows) {
        const auto [mark, window, camera] = who;
        std::string second = "through " + name(window);
        if (camera > 0 && location_.room->cameras.size() > 1)
            second += " (" + location_.room->cameras[camera - 1].name + ")";
        start_row((strip_.planned ? "SUN KEY " : "KEY ") + location_.room->marks[mark].name,
                  second);
        std::vector<Span> possible, stated, sure;
        for (const study::KeyInterval* k : intervals) {
            possible.push_back(k->possible);
            if (k->span) stated.push_back(*k->span);
            if (k->sure) sure.push_back(*k->sure);
        }
        std::ranges::sort(stated, {}, &Span::from);
        certain(possible, stated, sure);
        times(stated, words::clock_inward);
        end_row();
    }
    if (location_.room && !location_.room->marks.empty() && rows.empty()) {
        words(strip_.planned ? "SUN KEY" : "KEY", "no clean key on this date");
    }
}

void Strip::draw_covers() {
    draw_covers(study::covers_of_lock(strip_), "through the lock");
    draw_covers(strip_.covers, "while the key is used");
}

void Strip::draw_covers(const std::vector<study::CoverNeed>& covers, const char* what) {
    for (std::size_t i = 0; i < covers.size();) {
        const std::size_t window = covers[i].window;
        start_row("COVER " + name(window), what);
        std::vector<Span> spans;
        for (; i < covers.size() && covers[i].window == window; ++i) {
            spans.push_back(covers[i].span);
            bar(spans.back(), {pen::thin, "", kCover});
        }
        times(spans, words::clock_outward);
        end_row();
    }
}

// --- spots --------------------------------------------------------------------------------------

/// Direct sun as an outline, the side that is wanted hatched; a flag at the latest start of the
/// set-up, then set-up and shot.
void Strip::draw_spot(const site::Spot& spot, const study::SpotDay& day) {
    if (day.direct.empty())
        words("OUTSIDE " + spot.name, "no direct sun");
    else
        start_row("OUTSIDE " + spot.name, "direct sun");
    std::vector<Span> direct;
    for (const study::DirectSpan& d : day.direct) {
        direct.push_back(d.span);
        bar(d.span, {pen::thin, "", "#fff"});
    }
    for (const Span& s : day.wanted)
        bar(s, {pen::thin, "", kWanted});
    times(direct, words::clock_inward);
    if (!day.direct.empty()) end_row();
    const auto starts = [&](const std::vector<study::SafeStart>& list, const char* what) {
        const study::SafeStart* best = study::longest(list);
        if (best == nullptr || !best->latest) return;
        start_row("", fmt::format("{}: last start {}", what,
                                  words::minute_down(*best->latest, location_.site.zone)));
        bar(best->light, kToShootIn);
        has_safe_start_ = true;
        const double at = x(*best->latest);
        svg_.line({at, bar_top_ - 0.8}, {at, bar_top_ + kBar + 0.8}, {pen::wall});
        svg_.arrow({at, bar_top_ + kBar / 2},
                   {std::max(x(best->light.to), at + 2), bar_top_ + kBar / 2}, {pen::opening}, 2);
        times({best->light}, words::clock_inward);
        end_row();
    };
    starts(day.for_wanted, "wanted light");
    starts(day.for_late_light, "late light");
}

TitleBlock Strip::block() const {
    TitleBlock b;
    b.place = location_.site.name;
    b.drawing = "Strip of the day, " + site::date_in_words(strip_.date);
    if (location_.room) b.key = certainty_key(fills_, location_.room->bearing.within.in_degrees());
    if (std::ranges::any_of(strip_.spots, [](const auto& s) { return !s.wanted.empty(); }))
        b.key.push_back({[](Svg& svg, double x, double y, double w, double h) {
                             svg.rect(x, y, w, h, {pen::thin, "", kWanted});
                         },
                         "outside: from the side that the shot wants"});
    if (has_safe_start_ || !strip_.day.late_light.empty())
        b.key.push_back(
            {[](Svg& svg, double x, double y, double w, double h) {
                 svg.rect(x, y, w, h, kToShootIn);
             },
             has_safe_start_ ? "late light; outside: light to shoot in" : "late light"});
    if (!strip_.day.late_light.empty())
        b.key.push_back({[](Svg& svg, double x, double y, double w, double h) {
                             svg.rect(x, y, w, h, {pen::thin, "", kSun});
                         },
                         "late light with the sun over the horizon"});
    if (has_safe_start_)
        b.key.push_back({[](Svg& svg, double x, double y, double w, double h) {
                             svg.line({x, y}, {x, y + h}, {pen::wall});
                             svg.arrow({x, y + h / 2}, {x + w, y + h / 2}, {pen::opening}, 2);
                         },
                         "outside: from the latest start of the set-up to the light's end"});
    for (const site::ClockChange& c : strip_.clock_changes) {
        std::string words = site::in_words(c);
        b.notes.push_back("CLOCKS CHANGE: " + words);
    }
    b.notes.push_back(
        "Hours by the site's clock, offset above. Sky: black night, cross-hatched nautical and "
        "hatched civil twilight. Times to the minute at the bearing stated: of light outside "
        "rounded inward, of covers outward.");
    return b;
}

}  // namespace

StripDrawing draw_strip(const site::Location& location, const study::DayStrip& strip,
                        const DrawingFrame& frame) {
    const double bottom = Strip{location, strip, frame}.draw(0).scale.bottom_mm;
    return Strip{location, strip, frame}.draw(bottom);
}

}  // namespace keyhour::draw
