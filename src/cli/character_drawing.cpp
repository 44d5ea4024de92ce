#include "character_drawing.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <optional>
#include <ostream>
#include <string_view>

#include "display_width.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/patch_day.hpp"
#include "terminal.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

using room::Point2;
using study::DayEventKind;
using study::Span;

constexpr std::size_t kTallest = 34;
constexpr double kTallness = 2;  // a character is about twice as tall as wide
constexpr std::size_t kMostHours = 9;
constexpr double kWall = 0.3;  // m, where no reveal says more

/// Characters by what they stand for.
struct Signs {
    const char *wall, *open, *sheer, *blackout, *object;
    const char *sure, *stated, *possible;
};
constexpr Signs kUtf8{"\u2588", "\u2550", "\u2248", "\u2593",
                      "\u00b7", "\u2588", "\u2592", "\u2500"};
constexpr Signs kAscii{"#", "=", "~", "H", ".", "#", "=", "-"};

const Signs& signs(const CharacterSet& set) {
    return set.ascii ? kAscii : kUtf8;
}

/// Rows of cells. A cell holds one glyph; of a wide one the cell after it is empty.
class Canvas {
public:
    Canvas(std::size_t columns, std::size_t rows)
        : columns_{columns}, cells_(columns * rows, " "), written_(columns * rows, false) {}

    /// Puts a sign of one column.
    void set(std::size_t column, std::size_t row, std::string_view sign) {
        free(column, row);
        cell(column, row) = sign;
    }
    /// Puts a text from the column on; what does not fit is cut.
    void write(std::size_t column, std::size_t row, std::string_view text) {
        for (const Glyph& g : glyphs(text)) {
            if (column + g.columns > columns_) return;
            if (g.columns == 0) continue;
            set(column, row, g.bytes);
            for (std::size_t i = 1; i < g.columns; ++i) {
                free(column + i, row);
                cell(column + i, row).clear();
            }
            for (std::size_t i = 0; i < g.columns; ++i)
                written_[row * columns_ + column + i] = true;
            column += g.columns;
        }
    }
    /// Is there a text in one of these cells?
    [[nodiscard]] bool is_written(std::size_t column, std::size_t row, std::size_t wide) const {
        for (std::size_t c = column; c < std::min(column + wide, columns_); ++c)
            if (written_[row * columns_ + c]) return true;
        return false;
    }
    [[nodiscard]] std::string line(std::size_t row) const {
        std::string text;
        for (std::size_t c = 0; c < columns_; ++c)
            text += cells_[row * columns_ + c];
        while (!text.empty() && text.back() == ' ')
            text.pop_back();
        return text;
    }

private:
    [[nodiscard]] std::string& cell(std::size_t column, std::size_t row) {
        return cells_[row * columns_ + column];
    }
    /// Half of a wide glyph can't stay alone.
    void free(std::size_t column, std::size_t row) {
        if (column > 0 && cell(column, row).empty()) cell(column - 1, row) = " ";
        if (column + 1 < columns_ && cell(column + 1, row).empty()) cell(column + 1, row) = " ";
    }

    std::size_t columns_;
    std::vector<std::string> cells_;
    std::vector<bool> written_;
};

/// Would the character move a terminal's cursor or turn its writing round?
bool is_control(std::string_view bytes) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(bytes[i]); };
    if (bytes.size() == 1) return byte(0) < 0x20 || byte(0) == 0x7F;
    if (bytes.size() == 2) return byte(0) == 0xC2 && byte(1) < 0xA0;  // C1
    if (bytes.size() != 3 || byte(0) != 0xE2) return false;
    return (byte(1) == 0x80 && byte(2) >= 0xAA && byte(2) <= 0xAE) ||  // U+202A to U+202E
           (byte(1) == 0x81 && byte(2) >= 0xA6 && byte(2) <= 0xA9);    // U+2066 to U+2069
}

/// A name as a terminal may show it.
std::string shown(std::string_view name, const CharacterSet& set) {
    std::string out;
    for (std::size_t at = 0; at < name.size();) {
        std::size_t n = 1;
        while (at + n < name.size() && (static_cast<unsigned char>(name[at + n]) & 0xC0U) == 0x80U)
            ++n;
        const std::string_view character = name.substr(at, n);
        out += is_control(character) || (set.ascii && n > 1) ? "?" : character;
        at += n;
    }
    return out;
}

/// Shortened, and marked as such, where it is too long.
std::string cut(const std::string& text, std::size_t width) {
    if (columns(text) <= width) return text;
    return std::string{first_columns(text, width - 2)} + "..";
}

/// So many at most, evenly from first to last.
std::vector<Instant> thinned(const std::vector<Instant>& all, std::size_t most) {
    if (all.size() <= most) return all;
    std::vector<Instant> out;
    for (std::size_t i = 0; i < most; ++i)
        out.push_back(all[i * (all.size() - 1) / (most - 1)]);
    return out;
}

// --- the plan -----------------------------------------------------------------------------------

class CharacterPlan {
public:
    CharacterPlan(const study::RoomStudy& study, const std::vector<Instant>& hours,
                  const CharacterSet& set)
        : study_{study},
          room_{study.room()},
          set_{set},
          asked_{hours.size()},
          hours_{thinned(hours, kMostHours)} {
        for (const Instant t : hours_)
            instants_.push_back(study::patches_at(study, t));
        fit();
    }

    void print(std::ostream& out) {
        Canvas canvas{set_.columns, rows_};  // names have room beside a narrow plan
        for (std::size_t row = 0; row < rows_; ++row)
            for (std::size_t column = 0; column < columns_; ++column)
                canvas.set(column, row, cell(middle(column, row)));
        for (const room::Camera& c : room_.cameras)
            put_sign(canvas, c.at, "C");
        for (const room::Mark& m : room_.marks)
            put_sign(canvas, m.at, "X");
        for (const room::Mark& m : room_.marks)
            put_name(canvas, m.at, m.name);
        for (const room::Camera& c : room_.cameras)
            put_name(canvas, c.at, c.name);
        for (std::size_t row = 0; row < rows_; ++row)
            out << canvas.line(row) << '\n';
        print_key(out);
    }

private:
    void fit();
    [[nodiscard]] Point2 middle(std::size_t column, std::size_t row) const {
        return {least_.x + (static_cast<double>(column) + 0.5) * cell_m_,
                most_.y - (static_cast<double>(row) + 0.5) * cell_m_ * kTallness};
    }
    [[nodiscard]] std::string cell(Point2 p) const;
    [[nodiscard]] std::string in_room(Point2 p) const;
    [[nodiscard]] const char* in_wall(Point2 p) const;
    [[nodiscard]] bool lit(const study::PatchInstant& instant, Point2 p) const;
    [[nodiscard]] std::optional<std::pair<std::size_t, std::size_t>> place(Point2 p) const;
    void put_name(Canvas& canvas, Point2 p, const std::string& name) const;
    void put_sign(Canvas& canvas, Point2 p, const char* sign) const;
    void print_key(std::ostream& out) const;

    const study::RoomStudy& study_;
    const room::Room& room_;
    CharacterSet set_;
    std::size_t asked_;
    std::vector<Instant> hours_;
    std::vector<study::PatchInstant> instants_;
    Point2 least_{1e300, 1e300}, most_{-1e300, -1e300};
    double cell_m_ = 0.1, wall_m_ = kWall;
    std::size_t columns_ = 0, rows_ = 0;
};

void CharacterPlan::fit() {
    for (const Point2 p : room_.floor) {
        least_ = {std::min(least_.x, p.x), std::min(least_.y, p.y)};
        most_ = {std::max(most_.x, p.x), std::max(most_.y, p.y)};
    }
    const Point2 size = most_ - least_;
    // Walls are two characters thick beside, one above and below.
    const double across = static_cast<double>(set_.columns) - 4;
    cell_m_ = std::max(size.x / across, size.y / kTallness / static_cast<double>(kTallest - 2));
    wall_m_ = 2 * cell_m_;
    least_ = least_ - Point2{wall_m_, wall_m_};
    most_ = most_ + Point2{wall_m_, wall_m_};
    columns_ = std::min(set_.columns,
                        static_cast<std::size_t>(std::lround((most_.x - least_.x) / cell_m_)));
    rows_ = static_cast<std::size_t>(std::lround((most_.y - least_.y) / cell_m_ / kTallness));
}

/// The wall nearest to a point outside the floor, if it is near enough to be within the wall.
const char* CharacterPlan::in_wall(Point2 p) const {
    const char* sign = nullptr;
    for (std::size_t wall = 0; wall < room_.floor.size(); ++wall) {
        const room::WallFrame f = wall_frame(room_.floor, wall);
        const double u = dot(p - f.left_corner, f.u), out = dot(p - f.left_corner, f.n);
        if (out < 0 || out > wall_m_ || u < -wall_m_ || u > f.width_m + wall_m_) continue;
        if (sign == nullptr) sign = signs(set_).wall;
        for (const room::Window& w : room_.windows)
            if (w.wall == wall && u > w.left_m && u < w.left_m + w.width_m)
                sign = w.cover == room::Cover::open    ? signs(set_).open
                       : w.cover == room::Cover::sheer ? signs(set_).sheer
                                                       : signs(set_).blackout;
    }
    return sign;
}

/// On the floor, or on top of an object that stands there.
bool CharacterPlan::lit(const study::PatchInstant& instant, Point2 p) const {
    double top = 0;
    for (const room::Object& o : room_.objects)
        if (contains(o.footprint, p)) top = std::max(top, o.height_m);
    for (const study::WindowPatch& w : instant.patches) {
        int depth = 0;
        for (const auto& outline : w.patch.outlines) {
            room::Ring ring;
            for (const room::Point3& q : outline)
                if (std::abs(q.z - top) < 1e-6) ring.push_back({q.x, q.y});
            if (ring.size() == outline.size() && contains(ring, p)) ++depth;
        }
        if (depth % 2 == 1 && w.patch.surface.kind != room::Surface::Kind::wall) return true;
    }
    return false;
}

std::string CharacterPlan::in_room(Point2 p) const {
    std::string sign = " ";
    for (const room::Object& o : room_.objects)
        if (contains(o.footprint, p)) sign = signs(set_).object;
    bool one = false;
    for (std::size_t i = 0; i < instants_.size(); ++i)
        if (lit(instants_[i], p)) {
            sign = one ? "+" : fmt::format("{}", i + 1);
            one = true;
        }
    return sign;
}

std::string CharacterPlan::cell(Point2 p) const {
    if (contains(room_.floor, p)) return in_room(p);
    const char* wall = in_wall(p);
    return wall != nullptr ? wall : " ";
}

/// The cell in which a point of the plan lies.
std::optional<std::pair<std::size_t, std::size_t>> CharacterPlan::place(Point2 p) const {
    const double column = (p.x - least_.x) / cell_m_, row = (most_.y - p.y) / cell_m_ / kTallness;
    if (column < 0 || row < 0 || column >= static_cast<double>(columns_) ||
        row >= static_cast<double>(rows_))
        return std::nullopt;
    return std::pair{static_cast<std::size_t>(column), static_cast<std::size_t>(row)};
}

/// Beside its sign, to the right or left, else beside the plan, else shortened; not over another's.
void CharacterPlan::put_name(Canvas& canvas, Point2 p, const std::string& name) const {
    constexpr std::size_t wall = 2, longest = 16, shortest = 5;
    const auto at = place(p);
    if (!at) return;
    const auto [column, row] = *at;
    const std::string whole = cut(shown(name, set_), longest);
    const auto beside_sign = [&, c = column, r = row](const std::string& text) {
        const std::size_t wide = columns(text) + 1;  // with a blank
        if (c + 1 + wide < columns_ - wall && !canvas.is_written(c + 1, r, wide + 1)) {
            canvas.write(c + 1, r, " " + text);
            return true;
        }
        if (c < wall + wide + 1 || canvas.is_written(c - wide - 1, r, wide + 1)) return false;
        canvas.write(c - wide, r, text + " ");
        return true;
    };
    if (beside_sign(whole)) return;
    const std::size_t wide = columns(whole);
    for (std::size_t c = columns_; c + 1 + wide <= set_.columns; ++c)
        if (!canvas.is_written(c, row, wide + 1)) return canvas.write(c + 1, row, whole);
    for (std::size_t most = wide; most-- > shortest;)
        if (beside_sign(cut(whole, most))) return;
}

void CharacterPlan::put_sign(Canvas& canvas, Point2 p, const char* sign) const {
    if (const auto at = place(p)) canvas.write(at->first, at->second, sign);
}

std::string north_in_words(Angle plan_y) {
    // Where north lies on the page, clockwise from its top.
    constexpr std::array<const char*, 8> words{
        "to the top of the page",   "to the upper right of the page",
        "to the right of the page", "to the lower right of the page",
        "to the foot of the page",  "to the lower left of the page",
        "to the left of the page",  "to the upper left of the page"};
    const double turn = wrapped_turn(-plan_y).in_degrees();
    return words[static_cast<std::size_t>(std::lround(turn / 45)) % words.size()];
}

void CharacterPlan::print_key(std::ostream& out) const {
    std::string text = "sun at";
    const site::Zone& zone = study_.location().site.zone;
    for (std::size_t i = 0; i < hours_.size(); ++i)
        text +=
            fmt::format("{} {} {}", i == 0 ? "" : ",", i + 1, site::whole_minutes(hours_[i], zone));
    if (hours_.size() > 1) text += ", + at more than one";
    if (asked_ > hours_.size()) text += fmt::format(" ({} of the {} times)", hours_.size(), asked_);
    if (hours_.empty()) text = "no direct sun in the room";
    text += ". X mark, C camera, ";
    text += fmt::format("{} object, {} open window, {} sheer, {} blackout. ", signs(set_).object,
                        signs(set_).open, signs(set_).sheer, signs(set_).blackout);
    const Angle bearing = plan_bearing(room_).from_north;
    text += fmt::format("A character is {:.2f} m wide, {:.2f} m tall; true north lies {}.", cell_m_,
                        kTallness * cell_m_, north_in_words(bearing));
    print_wrapped(out, text, 0, 0);
}

// --- the strip ----------------------------------------------------------------------------------

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
            fmt::print(out_, "{}{}\n", std::string(label_, ' '), clock_span(s.from, s.to, zone_));
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

bool names_utf8(const char* variable) {
    const char* value = std::getenv(variable);
    if (value == nullptr || *value == '\0') return false;
    std::string text{value};
    for (char& c : text)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return text.find("utf-8") != std::string::npos || text.find("utf8") != std::string::npos;
}

bool is_set(const char* variable) {
    const char* value = std::getenv(variable);
    return value != nullptr && *value != '\0';
}

}  // namespace

CharacterSet character_set(bool ascii, std::ostream& out) {
    CharacterSet set;
    // The first that is set decides, as POSIX orders them.
    const char* deciding = is_set("LC_ALL") ? "LC_ALL" : is_set("LC_CTYPE") ? "LC_CTYPE" : "LANG";
    set.ascii = ascii || !names_utf8(deciding);
    set.columns = line_columns(out);
    return set;
}

void print_plan(std::ostream& out, const study::RoomStudy& study, const std::vector<Instant>& hours,
                const CharacterSet& set) {
    CharacterPlan{study, hours, set}.print(out);
}

void print_strip(std::ostream& out, const study::RoomStudy& study, const study::DayStrip& strip,
                 const CharacterSet& set) {
    CharacterStrip{out, study, strip, set}.print();
}

}  // namespace keyhour::cli
