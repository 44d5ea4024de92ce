#include <fmt/format.h>
#include <fmt/ostream.h>

#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <ostream>

#include "character_canvas.hpp"
#include "keyhour/site/dates.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

using study::DayEventKind;
using study::Span;

class CharacterStrip {
public:
    CharacterStrip(std::ostream& out, const study::RoomStudy& study, const study::DayStrip& strip,
                   const CharacterSet& set)
        : out_{out},
          room_{study.room()},
          zone_{study.location().site.zone},
          strip_{strip},
          set_{set} {
        label_ = set.columns >= 70 ? 22 : 14;
        wide_ = set.columns - label_ - 1;
        find_hours();
    }

    void print() {
        print_hours();
        print_sky();
        for (const study::WindowSun& w : strip_.windows)
            row(room_.windows[w.window].name, w.possible, w.stated, w.sure);
        print_keys();
        print_covers();
        print_key();
    }

private:
    void find_hours();
    [[nodiscard]] Instant at(std::size_t column) const {
        return from_ +
               (static_cast<double>(column) + 0.5) / static_cast<double>(wide_) * (to_ - from_);
    }
    /// In which an instant falls: a short span has its sign too.
    [[nodiscard]] std::size_t column(Instant t) const {
        const double share = (t - from_).count() / (to_ - from_).count();
        return static_cast<std::size_t>(std::clamp(share, 0.0, 1.0) * static_cast<double>(wide_) *
                                        (1 - 1e-9));
    }
    void row(const std::string& name, const std::vector<Span>& possible,
             const std::vector<Span>& stated, const std::vector<Span>& sure);
    void line(const std::string& name, const Canvas& canvas);
    void print_hours();
    void print_sky();
    void print_keys();
    void print_covers();
    void print_key();

    std::ostream& out_;
    const room::Room& room_;
    const site::Zone& zone_;
    const study::DayStrip& strip_;
    CharacterSet set_;
    std::size_t label_ = 22, wide_ = 57;
    Instant from_, to_;
};

void CharacterStrip::find_hours() {
    from_ = strip_.to;
    to_ = strip_.from;
    for (const study::DayEvent& e : strip_.day.events) {
        if (e.kind == DayEventKind::astronomical_dawn || e.kind == DayEventKind::nautical_dawn ||
            e.kind == DayEventKind::nautical_dusk || e.kind == DayEventKind::astronomical_dusk)
            continue;
        from_ = std::min(from_, e.at);
        to_ = std::max(to_, e.at);
    }
    if (from_ >= to_) {
        from_ = strip_.from;
        to_ = strip_.to;
        return;
    }
    const auto hours = [&](Instant t) { return (t - strip_.from).count() / 3600; };
    to_ = std::min(strip_.from + Seconds{3600 * std::ceil(hours(to_))}, strip_.to);
    from_ = strip_.from + Seconds{3600 * std::floor(hours(from_))};
}

/// The name beside its row; a longer one stands above it.
void CharacterStrip::line(const std::string& name, const Canvas& canvas) {
    std::string label = shown(name, set_);
    if (columns(label) >= label_) {
        out_ << cut(label, set_.columns) << '\n';
        label.clear();
    }
    out_ << label << std::string(label_ - columns(label), ' ') << canvas.line(0) << '\n';
}

void CharacterStrip::row(const std::string& name, const std::vector<Span>& possible,
                         const std::vector<Span>& stated, const std::vector<Span>& sure) {
    Canvas canvas{wide_, 1};
    const auto paint = [&](const std::vector<Span>& spans, const char* sign) {
        for (std::size_t c = 0; c < wide_; ++c)
            for (const Span& s : spans)
                if ((s.from <= at(c) && at(c) < s.to) || c == column(s.from + 0.5 * s.length()))
                    canvas.set(c, 0, sign);
    };
    paint(possible, signs(set_).possible);
    paint(stated, signs(set_).stated);
    paint(sure, signs(set_).sure);
    line(name, canvas);
}

/// "08" stands above the column in which 8 o'clock falls.
void CharacterStrip::print_hours() {
    Canvas canvas{wide_, 1};
    const double per_hour = static_cast<double>(wide_) / ((to_ - from_).count() / 3600);
    const long every = per_hour >= 3.5 ? 1 : per_hour >= 1.8 ? 2 : 3;
    std::size_t free_from = 0;
    for (Instant t = from_; t < to_; t = t + Seconds{1800}) {
        const auto local = zone_.at(t).local;
        const auto since = (local - date::floor<date::days>(local)).count();
        const auto column = static_cast<std::size_t>((t - from_).count() / 3600 * per_hour);
        if (since % 3600 != 0 || since / 3600 % every != 0 || column < free_from ||
            column + 2 > wide_)
            continue;
        canvas.write(column, 0, fmt::format("{:02}", since / 3600));
        free_from = column + 3;
    }
    line(offset_at(from_, zone_), canvas);
}

void CharacterStrip::print_sky() {
    Canvas canvas{wide_, 1};
    const auto when = [&](DayEventKind kind, Instant none) {
        for (const study::DayEvent& e : strip_.day.events)
            if (e.kind == kind) return e.at;
        return none;
    };
    if (strip_.day.state == study::DayState::sun_rises_or_sets) {
        const Instant rise = when(DayEventKind::rise, from_), set = when(DayEventKind::set, to_);
        const Instant dawn = when(DayEventKind::civil_dawn, from_);
        const Instant dusk = when(DayEventKind::civil_dusk, to_);
        for (std::size_t c = 0; c < wide_; ++c) {
            const Instant t = at(c);
            if (t < rise || t >= set) canvas.set(c, 0, t >= dawn && t < dusk ? "t" : "n");
        }
    }
    line("sky", canvas);
}

void CharacterStrip::print_keys() {
    using Who = std::tuple<std::size_t, std::size_t, std::size_t>;
    std::map<Who, std::array<std::vector<Span>, 3>> rows;
    for (const study::KeyInterval& k : strip_.keys) {
        auto& [possible, stated, sure] = rows[{k.mark, k.window, k.camera ? *k.camera + 1 : 0}];
        possible.push_back(k.possible);
        if (k.span) stated.push_back(*k.span);
        if (k.sure) sure.push_back(*k.sure);
    }
    for (const auto& [who, spans] : rows) {
        const std::string& mark = room_.marks[std::get<0>(who)].name;
        row("KEY " + mark + ", " + room_.windows[std::get<1>(who)].name, spans[0], spans[1],
            spans[2]);
        for (const Span& s : spans[1])
            fmt::print(out_, "{}{}\n", std::string(label_, ' '), words::clock_inward(s, zone_));
    }
    if (rows.empty() && !room_.marks.empty()) out_ << "no clean key on this date\n";
}

void CharacterStrip::print_covers() {
    for (std::size_t i = 0; i < strip_.covers.size();) {
        const std::size_t window = strip_.covers[i].window;
        std::vector<Span> spans;
        for (; i < strip_.covers.size() && strip_.covers[i].window == window; ++i)
            spans.push_back(strip_.covers[i].span);
        row("COVER " + room_.windows[window].name, {}, spans, {});
    }
}

void CharacterStrip::print_key() {
    print_wrapped(out_,
                  fmt::format("{} at any bearing within {}, {} at the bearing stated, {} "
                              "at some; sky: t civil twilight, n darker",
                              signs(set_).sure, in_degrees(room_.bearing.within.in_degrees()),
                              signs(set_).stated, signs(set_).possible),
                  0, 0);
    for (const site::ClockChange& c : strip_.clock_changes)
        print_wrapped(out_, site::in_words(c), 0, 0);
}

}  // namespace

void print_strip(std::ostream& out, const study::RoomStudy& study, const study::DayStrip& strip,
                 const CharacterSet& set) {
    CharacterStrip{out, study, strip, set}.print();
}

}  // namespace keyhour::cli
