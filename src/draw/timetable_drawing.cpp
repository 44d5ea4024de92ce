#include "timetable_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "svg.hpp"

namespace keyhour::draw {
namespace {

constexpr double row_mm = 6.2, bar_mm = 3.6, axis_mm = 6, key_mm = 6, gap_mm = 1.5;
constexpr double hour_s = 3600;

class Timetable {
public:
    Timetable(const std::string& title, const std::vector<TimetableRow>& rows,
              const site::Zone& zone, const DrawingFrame& frame)
        : rows_{rows},
          zone_{zone},
          svg_{frame, title, description(rows)},
          left_{std::min(0.32 * frame.width_mm, 46.0)} {
        Instant first = rows.front().from, last = rows.front().to;
        for (const TimetableRow& row : rows) {
            first = std::min(first, row.from);
            last = std::max(last, end_of(row));
        }
        // From a whole hour of the clock to one.
        from_ = first - Seconds{past_hour(first)};
        const double after = past_hour(last);
        to_ = after > 0 ? last + Seconds{hour_s - after} : last;
        mm_per_s_ = (frame.width_mm - left_ - gap_mm) / (to_ - from_).count();
    }

    std::string draw() {
        const double bottom = axis_mm + row_mm * static_cast<double>(rows_.size());
        hours(bottom);
        double top = axis_mm;
        for (const TimetableRow& row : rows_) {
            draw_row(row, top);
            top += row_mm;
        }
        svg_.line({0, bottom}, {svg_.width(), bottom}, {pen::thin});
        return svg_.finish(bottom + legend(bottom + gap_mm));
    }

private:
    static std::string description(const std::vector<TimetableRow>& rows) {
        std::string out = "Rows from first to last: ";
        for (const TimetableRow& row : rows)
            out += fmt::format("{}{}", &row == rows.data() ? "" : ", ", row.name);
        return out;
    }

    /// Seconds since the last whole hour of the local clock.
    [[nodiscard]] double past_hour(Instant t) const {
        const auto local = zone_.at(t).local.time_since_epoch().count();
        return static_cast<double>(((local % 3600) + 3600) % 3600);
    }

    [[nodiscard]] double x(Instant t) const { return left_ + mm_per_s_ * (t - from_).count(); }

    static Instant end_of(const TimetableRow& row) {
        Instant end = row.to + row.over_run;
        if (row.latest) end = std::max(end, *row.latest + (row.to - row.shoot_from));
        return end;
    }

    void hours(double bottom) {
        const double hour_mm = mm_per_s_ * hour_s;
        const double label_mm = text_width("00", letters::small) + 2 * gap_mm;
        const int each = std::max(1, static_cast<int>(std::ceil(label_mm / hour_mm)));
        int n = 0;
        for (Instant t = from_; t <= to_ + Seconds{1}; t = t + Seconds{hour_s}, ++n) {
            svg_.line({x(t), axis_mm - 1}, {x(t), bottom}, {pen::fine, "0.3 1.2"});
            if (n % each != 0 || x(t) + label_mm / 2 > svg_.width() + gap_mm) continue;
            const auto local = zone_.at(t).local.time_since_epoch().count();
            svg_.text({x(t), axis_mm - 2},
                      fmt::format("{:02}", ((local % 86400) + 86400) % 86400 / 3600),
                      {letters::small, Anchor::middle});
        }
    }

    void draw_row(const TimetableRow& row, double top) {
        const double y = top + (row_mm - bar_mm) / 2;
        svg_.line({0, top}, {svg_.width(), top}, {pen::fine});
        svg_.text({0, top + row_mm / 2 + 0.36 * letters::small},
                  fitted(row.name, letters::small, left_ - gap_mm, row.once_only),
                  {letters::small, Anchor::start, row.once_only});
        if (row.kind != TimetableRow::Kind::scene) {
            const double middle = top + row_mm / 2;
            svg_.line({x(row.from), middle}, {x(row.to), middle},
                      {pen::opening, row.kind == TimetableRow::Kind::move ? "" : "1 1"});
            if (row.kind == TimetableRow::Kind::move) ends(row.from, row.to, middle);
            return;
        }
        if (row.from < row.shoot_from)
            svg_.rect(x(row.from), y, x(row.shoot_from) - x(row.from), bar_mm,
                      {pen::thin, "", Hatch{}});
        svg_.rect(x(row.shoot_from), y, x(row.to) - x(row.shoot_from), bar_mm,
                  {pen::thin, "", "#000"});
        if (row.over_run > Seconds{0})
            svg_.rect(x(row.to), y, mm_per_s_ * row.over_run.count(), bar_mm,
                      {pen::thin, "", Hatch{0, 1, 0.35, Hatch::Kind::dots}});
        if (row.once_only)
            svg_.rect(x(row.shoot_from) - 0.7, y - 0.7,
                      x(row.to + row.over_run) - x(row.shoot_from) + 1.4, bar_mm + 1.4,
                      {pen::opening});
        if (row.latest && *row.latest > row.shoot_from) {
            const Instant end = *row.latest + (row.to - row.shoot_from);
            const double middle = top + row_mm / 2;
            svg_.line({x(row.to + row.over_run), middle}, {x(end), middle}, {pen::thin});
            tick(end, middle);
        }
    }

    void tick(Instant t, double y) { svg_.line({x(t), y - 1.2}, {x(t), y + 1.2}, {pen::object}); }
    void ends(Instant from, Instant to, double y) {
        tick(from, y);
        tick(to, y);
    }

    /// What the bars mean. @return its height
    double legend(double top) {
        struct Entry {
            Stroke stroke;
            const char* words;
        };
        const Entry entries[] = {{{pen::thin, "", Hatch{}}, "set-up"},
                                 {{pen::thin, "", "#000"}, "shooting"},
                                 {{pen::opening}, "once only"}};
        double at = 0;
        for (const Entry& entry : entries) {
            constexpr double box_mm = 6;
            svg_.rect(at + 0.3, top + 0.8, box_mm, bar_mm - 0.6, entry.stroke);
            svg_.text({at + box_mm + 1.5, top + 3.4}, entry.words, {letters::small});
            at += box_mm + 4 + text_width(entry.words, letters::small);
        }
        double height = key_mm;
        const char* slack = "thin line: to its end if begun at its latest";
        if (at + text_width(slack, letters::small) > svg_.width()) {
            at = 0;
            top += letters::small + gap_mm;
            height += letters::small + gap_mm;
        }
        svg_.text({at, top + 3.4}, fitted(slack, letters::small, svg_.width() - at),
                  {letters::small});
        return height + gap_mm;
    }

    const std::vector<TimetableRow>& rows_;
    const site::Zone& zone_;
    Svg svg_;
    double left_, mm_per_s_ = 1;
    Instant from_, to_;
};

}  // namespace

std::string draw_timetable(const std::string& title, const std::vector<TimetableRow>& rows,
                           const site::Zone& zone, const DrawingFrame& frame) {
    return Timetable{title, rows, zone, frame}.draw();
}

}  // namespace keyhour::draw
