#include "year_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <map>

#include "labels.hpp"
#include "title_block.hpp"
#include "words/clock.hpp"

namespace keyhour::draw {
namespace {

using study::KeyDay;
using study::KeyInterval;

constexpr std::array<const char*, 12> kMonths{"January",   "February", "March",    "April",
                                              "May",       "June",     "July",     "August",
                                              "September", "October",  "November", "December"};

/// Areas of fewer days are named only if their window has none wider.
constexpr std::size_t kNamed = 12;

/// On one day, hours of the local clock.
struct Column {
    std::size_t day;
    double from, to;
};
/// Columns of days in a row that overlap in time: one area of the chart.
using Chain = std::vector<Column>;

class YearChart {
public:
    YearChart(const site::Location& location, const study::KeyYear& year,
              const YearContent& content, const DrawingFrame& frame)
        : location_{location},
          year_{year},
          content_{content},
          narrow_{frame.width_mm < 130},
          svg_{frame,
               fmt::format("Clean keys of {} at {}, {}", static_cast<int>(year.year),
                           location.room->marks[year.mark].name, location.site.name),
               description()},
          fills_{certainty_fills()},
          labels_{{}} {
        left_ = 11;
        right_ = frame.width_mm - 4;
        find_hours();
        top_ = kTop;
        bottom_ = top_ + (narrow_ ? 90 : 112);
        labels_ = Labels{{left_ + 0.6, top_ + 0.6, right_ - 0.6, bottom_ - 0.6}};
    }

    std::string draw() {
        draw_grid();
        draw_sun();
        draw_areas();
        draw_marked();
        draw_clock_changes();
        svg_.rect(left_, top_, right_ - left_, bottom_ - top_, {pen::opening});
        label_windows();
        const double foot = draw_holds(bottom_ + 9);
        return svg_.finish(draw_title_block(svg_, foot + 3, block()));
    }

private:
    static constexpr double kTop = 9;

    [[nodiscard]] std::string description() const;
    [[nodiscard]] TitleBlock block() const;
    [[nodiscard]] bool is_shown(const KeyInterval& k) const {
        return !content_.camera || k.camera == content_.camera;
    }
    [[nodiscard]] double x(double day) const {
        return left_ + (right_ - left_) * day / static_cast<double>(year_.days.size());
    }
    [[nodiscard]] double y(double hour) const {
        return top_ + (bottom_ - top_) * (hour - first_hour_) / (last_hour_ - first_hour_);
    }
    /// By the clock, with the offset that holds at the instant; beyond 24 on the next date.
    [[nodiscard]] double hour(Instant t, const KeyDay& day) const {
        const auto reading = location_.site.zone.at(t);
        const auto since = reading.local - date::local_days{day.date};
        return static_cast<double>(since.count()) / 3600;
    }
    void find_hours();
    [[nodiscard]] bool steps_before(std::size_t day) const;
    [[nodiscard]] std::vector<Chain> chains(std::vector<Column> columns) const;
    void draw_area(const Chain& chain, const Stroke& stroke);
    void draw_grid();
    void draw_sun();
    void draw_areas();
    void draw_clock_changes();
    void draw_marked();
    void label_windows();
    [[nodiscard]] double draw_holds(double top);

    const site::Location& location_;
    const study::KeyYear& year_;
    const YearContent& content_;
    bool narrow_;
    Svg svg_;
    CertaintyFills fills_;
    Labels labels_;
    double left_ = 0, right_ = 0, top_ = 0, bottom_ = 0;
    double first_hour_ = 0, last_hour_ = 24;
    std::map<std::size_t, std::vector<Chain>> areas_;  // of each window, to be labelled
};

std::string in_words(const study::Span& span, const site::Zone& zone) {
    return fmt::format("{} ({:.0f} min)", words::clock_inward(span, zone),
                       words::promised_length(span).count() / 60);
}

std::string YearChart::description() const {
    const auto best = best_day(year_, content_.camera);
    if (!best) return "No clean key on any date of the year.";
    const KeyDay& day = year_.days[best->day];
    const KeyInterval& k = day.intervals[best->interval];
    std::size_t days = 0, sure = 0;
    for (const KeyDay& d : year_.days) {
        days += std::ranges::any_of(d.intervals,
                                    [&](const KeyInterval& i) { return is_shown(i) && i.span; });
        sure += std::ranges::any_of(d.intervals,
                                    [&](const KeyInterval& i) { return is_shown(i) && i.sure; });
    }
    return fmt::format(
        "A clean key on {} days at the bearing stated, at any within its doubt on {}. Longest "
        "hold{}: {}, {}, "
        "through {}.",
        days, sure == 0 ? "none" : fmt::format("{}", sure), k.sure ? " at any bearing" : "",
        site::date_in_words(day.date), in_words(k.sure ? *k.sure : *k.span, location_.site.zone),
        location_.room->windows[k.window].name);
}

void YearChart::find_hours() {
    double first = 24, last = 0;
    const auto take = [&](double h) {
        first = std::min(first, h);
        last = std::max(last, h);
    };
    for (const KeyDay& day : year_.days) {
        for (const KeyInterval& k : day.intervals) {
            if (!is_shown(k)) continue;
            take(hour(k.possible.from, day));
            take(hour(k.possible.to, day));
        }
        if (day.first_sun) take(hour(*day.first_sun, day));
        if (day.last_sun) take(hour(*day.last_sun, day));
    }
    if (first >= last) return;
    first_hour_ = std::max(0.0, std::floor(first));
    last_hour_ = std::ceil(last);
}

bool YearChart::steps_before(std::size_t day) const {
    // The step falls early on its date, so what comes in daylight already has it.
    return std::ranges::any_of(year_.clock_changes, [&](const site::ClockChange& c) {
        return c.day == year_.days[day].date;
    });
}

std::vector<Chain> YearChart::chains(std::vector<Column> columns) const {
    std::ranges::stable_sort(columns, {}, &Column::day);
    std::vector<Chain> open, done;
    for (const Column& c : columns) {
        Chain* joined = nullptr;
        for (Chain& chain : open) {
            const Column& end = chain.back();
            if (end.day + 1 == c.day && end.from < c.to && c.from < end.to &&
                !steps_before(c.day)) {
                joined = &chain;
                break;
            }
        }
        if (joined != nullptr)
            joined->push_back(c);
        else
            open.push_back({c});
        // What has not been continued by now ends.
        for (std::size_t i = 0; i < open.size();)
            if (open[i].back().day + 1 < c.day) {
                done.push_back(std::move(open[i]));
                open.erase(open.begin() + static_cast<std::ptrdiff_t>(i));
            } else {
                ++i;
            }
    }
    done.insert(done.end(), open.begin(), open.end());
    return done;
}

void YearChart::draw_area(const Chain& chain, const Stroke& stroke) {
    std::vector<Point2> ring;
    const auto day = [](const Column& c) { return static_cast<double>(c.day); };
    ring.push_back({x(day(chain.front())), y(chain.front().from)});
    for (const Column& c : chain)
        ring.push_back({x(day(c) + 0.5), y(c.from)});
    ring.push_back({x(day(chain.back()) + 1), y(chain.back().from)});
    ring.push_back({x(day(chain.back()) + 1), y(chain.back().to)});
    for (auto c = chain.rbegin(); c != chain.rend(); ++c)
        ring.push_back({x(day(*c) + 0.5), y(c->to)});
    ring.push_back({x(day(chain.front())), y(chain.front().to)});
    svg_.shape({ring}, stroke);
}

void YearChart::draw_areas() {
    using Who = std::pair<std::size_t, std::size_t>;  // window, camera
    std::map<Who, std::array<std::vector<Column>, 3>> columns;
    for (std::size_t d = 0; d < year_.days.size(); ++d)
        for (const KeyInterval& k : year_.days[d].intervals) {
            if (!is_shown(k)) continue;
            auto& [possible, stated, sure] = columns[{k.window, k.camera.value_or(0)}];
            const auto column = [&](const study::Span& s) {
                return Column{d, hour(s.from, year_.days[d]), hour(s.to, year_.days[d])};
            };
            possible.push_back(column(k.possible));
            if (k.span) stated.push_back(column(*k.span));
            if (k.sure) sure.push_back(column(*k.sure));
        }
    for (std::size_t certainty = 0; certainty < 3; ++certainty)
        for (const auto& [who, lists] : columns)
            for (const Chain& chain : chains(lists[certainty])) {
                if (certainty == 1) draw_area(chain, {pen::thin, "", "#fff", false});
                draw_area(chain, certainty == 0   ? fills_.possible
                                 : certainty == 1 ? fills_.stated
                                                  : fills_.sure);
                if (certainty == 0) areas_[who.first].push_back(chain);
            }
}

void YearChart::draw_grid() {
    const double month_mm = (right_ - left_) / 12;
    const std::size_t letters_shown = text_width("September", letters::small) < month_mm ? 9
                                      : text_width("May", letters::small) < month_mm     ? 3
                                                                                         : 1;
    double at = 0;
    for (unsigned month = 1; month <= 12; ++month) {
        const site::LocalDate last{year_.year / date::month{month} / date::last};
        const double next = at + static_cast<unsigned>(last.day());
        if (month > 1) svg_.line({x(at), top_}, {x(at), bottom_}, {pen::fine, "0.3 1"});
        const std::string name = kMonths[month - 1];
        svg_.text({x((at + next) / 2), top_ - 2}, name.substr(0, letters_shown),
                  {letters::small, Anchor::middle});
        at = next;
    }
    const int every = last_hour_ - first_hour_ > 14 ? 2 : 1;
    for (int h = static_cast<int>(first_hour_); h <= static_cast<int>(last_hour_); ++h) {
        if (h % every != 0) continue;
        svg_.line({left_, y(h)}, {right_, y(h)}, {pen::fine, "0.3 1"});
        svg_.text({left_ - 1.2, y(h) + 0.9}, fmt::format("{:02}", h % 24),
                  {letters::small, Anchor::end});
    }
}

/// Lines at the site's first and last sun, over its skyline, with the steps of the clocks.
void YearChart::draw_sun() {
    for (const bool first : {true, false}) {
        std::vector<Point2> line;
        bool named = false;
        const auto flush = [&] {
            svg_.polyline(line, {pen::object});
            if (!named && line.size() > 40) {
                named = true;
                TextStyle style{letters::small};
                style.halo = true;
                labels_.put(svg_, {first ? "first sun" : "last sun"},
                            {line[line.size() / 12], 1, style});
            }
            for (std::size_t i = 1; i < line.size(); ++i)
                labels_.avoid(line[i - 1], line[i], 2);
            line.clear();
        };
        for (std::size_t d = 0; d < year_.days.size(); ++d) {
            const KeyDay& day = year_.days[d];
            const auto& t = first ? day.first_sun : day.last_sun;
            if (!t) {
                flush();
                continue;
            }
            const Point2 p{x(static_cast<double>(d) + 0.5), y(hour(*t, day))};
            // A step of the clock stands upright between two days.
            if (!line.empty() && steps_before(d)) {
                const double edge = x(static_cast<double>(d));
                line.push_back({edge, line.back().y});
                line.push_back({edge, p.y});
            }
            if (!line.empty() && std::abs(line.back().y - p.y) > (bottom_ - top_) / 3) flush();
            line.push_back(p);
        }
        flush();
    }
}

void YearChart::draw_clock_changes() {
    for (const site::ClockChange& c : year_.clock_changes)
        for (std::size_t d = 0; d < year_.days.size(); ++d) {
            if (year_.days[d].date != c.day) continue;
            const double at = x(static_cast<double>(d));
            svg_.line({at, top_}, {at, bottom_}, {pen::thin, "2 1"});
            labels_.avoid({at, top_}, {at, bottom_}, 2);
            TextStyle style{letters::small};
            style.halo = true;
            const double hours = static_cast<double>((c.after - c.before).count()) / 3600;
            labels_.put(
                svg_,
                {fmt::format("clocks {}{} h", hours > 0 ? "+" : "", number(hours)),
                 fmt::format(
                     "{} {}", static_cast<unsigned>(c.day.day()),
                     std::string{kMonths[static_cast<unsigned>(c.day.month()) - 1]}.substr(0, 3))},
                {{at, bottom_ - 4}, 1.2, style});
        }
}

void YearChart::draw_marked() {
    if (!content_.marked) return;
    for (std::size_t d = 0; d < year_.days.size(); ++d) {
        if (year_.days[d].date != *content_.marked) continue;
        const double at = x(static_cast<double>(d) + 0.5);
        svg_.line({at, top_}, {at, bottom_}, {pen::opening, "3 1.2"});
        labels_.avoid({at, top_}, {at, bottom_}, 4);
        svg_.shape({{{at, top_}, {at - 1.2, top_ - 1.6}, {at + 1.2, top_ - 1.6}}},
                   {pen::thin, "", "#000"});
    }
}

/// The widest area of each window for sure, others where there is room.
void YearChart::label_windows() {
    TextStyle style{letters::usual};
    style.halo = style.bold = true;
    for (auto& [window, areas] : areas_) {
        std::ranges::stable_sort(areas, std::greater{}, &Chain::size);
        for (const Chain& area : areas)
            for (const Column& c : area) {
                const double at = x(static_cast<double>(c.day) + 0.5);
                labels_.avoid({at, y(c.from)}, {at, y(c.to)}, 2);
            }
    }
    for (const bool widest : {true, false})
        for (const auto& [window, areas] : areas_)
            for (std::size_t i = 0; i < areas.size(); ++i) {
                if ((i == 0) != widest || (i > 0 && areas[i].size() < kNamed)) continue;
                const Column& middle = areas[i][areas[i].size() / 2];
                Labels::Wish wish{{x(static_cast<double>(middle.day)), y(middle.from)}, 1.2, style};
                wish.must = widest;
                if (!widest) wish.most_mm = 8;
                labels_.put(svg_, {location_.room->windows[window].name}, wish);
            }
}

/// The longest hold of each day: sure black, at the stated bearing hatched. @return the lower edge
double YearChart::draw_holds(double top) {
    std::vector<double> stated(year_.days.size()), sure(year_.days.size());
    double most = 30;
    for (std::size_t d = 0; d < year_.days.size(); ++d)
        for (const KeyInterval& k : year_.days[d].intervals) {
            if (!is_shown(k)) continue;
            stated[d] = std::max(stated[d], k.hold().count() / 60);
            sure[d] = std::max(sure[d], k.sure_hold().count() / 60);
            most = std::max(most, stated[d]);
        }
    const double step = most > 240 ? 60 : most > 90 ? 30 : 15;
    most = step * std::ceil(most / step);
    const double tall = narrow_ ? 24 : 30, bottom = top + tall;
    const auto level = [&](double minutes) { return bottom - tall * minutes / most; };
    svg_.text({left_, top - 1.8}, "longest hold of the day, minutes", {letters::small});
    const double every = most / step > 5 ? 2 * step : step;
    for (double m = 0; m <= most; m += every) {
        svg_.line({left_, level(m)}, {right_, level(m)}, {pen::fine, "0.3 1"});
        svg_.text({left_ - 1.2, level(m) + 0.9}, number(m), {letters::small, Anchor::end});
    }
    const auto area = [&](const std::vector<double>& minutes, const Stroke& stroke) {
        std::vector<Column> columns;
        for (std::size_t d = 0; d < minutes.size(); ++d)
            if (minutes[d] > 0) columns.push_back({d, 0, minutes[d]});
        for (std::size_t i = 0; i < columns.size();) {
            std::vector<Point2> ring{{x(static_cast<double>(columns[i].day)), bottom}};
            std::size_t last = columns[i].day;
            for (; i < columns.size() && columns[i].day <= last + 1; ++i) {
                last = columns[i].day;
                ring.push_back({x(static_cast<double>(last)), level(columns[i].to)});
                ring.push_back({x(static_cast<double>(last) + 1), level(columns[i].to)});
            }
            ring.push_back({x(static_cast<double>(last) + 1), bottom});
            svg_.shape({ring}, stroke);
        }
    };
    area(stated, fills_.stated);
    area(sure, fills_.sure);
    svg_.rect(left_, top, right_ - left_, tall, {pen::opening});
    return bottom;
}

TitleBlock YearChart::block() const {
    TitleBlock b;
    const room::Room& room = *location_.room;
    b.place = location_.site.name;
    b.drawing = fmt::format("Year {}: when the key is clean at {}", static_cast<int>(year_.year),
                            room.marks[year_.mark].name);
    if (content_.camera) b.drawing += ", camera " + room.cameras[*content_.camera].name;
    b.key = certainty_key(fills_, room.bearing.within.in_degrees());
    if (content_.marked)
        b.key.push_back({[](Svg& svg, double x, double y, double w, double h) {
                             svg.line({x, y + h / 2}, {x + w, y + h / 2}, {pen::opening, "3 1.2"});
                         },
                         site::date_in_words(*content_.marked)});
    b.notes.push_back(description());
    for (const site::ClockChange& c : year_.clock_changes) {
        std::string words = site::in_words(c);
        words[0] = static_cast<char>(words[0] - 'a' + 'A');
        b.notes.push_back(words + ".");
    }
    b.notes.push_back(
        "Hours by the site's own clock, steps counted. First and last sun: over the site's "
        "skyline. Covers are not looked at: see the strip of "
        "the day.");
    return b;
}

}  // namespace

std::optional<BestKeyDay> best_day(const study::KeyYear& year, std::optional<std::size_t> camera) {
    std::optional<BestKeyDay> best;
    const KeyInterval* longest = nullptr;
    for (std::size_t d = 0; d < year.days.size(); ++d)
        for (std::size_t i = 0; i < year.days[d].intervals.size(); ++i) {
            const KeyInterval& k = year.days[d].intervals[i];
            if ((camera && k.camera != camera) || !k.span) continue;
            if (longest != nullptr && !is_better(k, *longest)) continue;
            longest = &k;
            best = BestKeyDay{d, i};
        }
    return best;
}

std::string draw_year(const site::Location& location, const study::KeyYear& year,
                      const YearContent& content, const DrawingFrame& frame) {
    return YearChart{location, year, content, frame}.draw();
}

}  // namespace keyhour::draw
