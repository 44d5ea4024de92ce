#include "character_drawing.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <ostream>
#include <string_view>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/patch_day.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

using room::Point2;
using study::DayEventKind;
using study::Span;

constexpr std::size_t kNarrowest = 40, kTallest = 34;
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

/// Rows of cells, each one character.
class Canvas {
public:
    Canvas(std::size_t columns, std::size_t rows)
        : columns_{columns}, cells_(columns * rows, " ") {}
    [[nodiscard]] std::string& at(std::size_t column, std::size_t row) {
        return cells_[row * columns_ + column];
    }
    /// Puts a text from the column on; what does not fit is cut. Names are shown character for
    /// character, so other than ASCII is left as it is in one cell each.
    void write(std::size_t column, std::size_t row, std::string_view text) {
        for (std::size_t i = 0; i < text.size() && column < columns_;) {
            std::size_t n = 1;
            while (i + n < text.size() &&
                   (static_cast<unsigned char>(text[i + n]) & 0xC0U) == 0x80U)
                ++n;
            at(column++, row) = std::string{text.substr(i, n)};
            i += n;
        }
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
    std::size_t columns_;
    std::vector<std::string> cells_;
};

/// A name as a terminal may show it: control characters would move the cursor.
std::string shown(const std::string& name, const CharacterSet& set) {
    std::string out;
    for (const char c : name) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte < 0x20 || byte == 0x7F)
            out += '?';
        else if (byte < 0x80 || !set.ascii)
            out += c;
        else if ((byte & 0xC0U) != 0x80U)
            out += '?';
    }
    return out;
}

std::string cut(std::string text, std::size_t width) {
    while (columns(text) > width) {
        while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0U) == 0x80U)
            text.pop_back();
        if (!text.empty()) text.pop_back();
    }
    return text;
}

// --- the plan -----------------------------------------------------------------------------------

class CharacterPlan {
public:
    CharacterPlan(const study::RoomStudy& study, const std::vector<Instant>& hours,
                  const CharacterSet& set)
        : study_{study}, room_{study.room()}, set_{set}, hours_{hours} {
        if (hours_.size() > kMostHours) hours_.resize(kMostHours);
        for (const Instant t : hours_)
            instants_.push_back(study::patches_at(study, t));
        fit();
    }

    void print(std::ostream& out) {
        Canvas canvas{columns_, rows_};
        for (std::size_t row = 0; row < rows_; ++row)
            for (std::size_t column = 0; column < columns_; ++column)
                canvas.at(column, row) = cell(middle(column, row));
        for (const room::Camera& c : room_.cameras)
            put(canvas, c.at, "C", "");
        for (const room::Mark& m : room_.marks)
            put(canvas, m.at, "X", m.name);
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
    void put(Canvas& canvas, Point2 p, const char* sign, const std::string& name) const;
    void print_key(std::ostream& out) const;

    const study::RoomStudy& study_;
    const room::Room& room_;
    CharacterSet set_;
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

void CharacterPlan::put(Canvas& canvas, Point2 p, const char* sign, const std::string& name) const {
    const double column = (p.x - least_.x) / cell_m_, row = (most_.y - p.y) / cell_m_ / kTallness;
    if (column < 0 || row < 0 || column >= static_cast<double>(columns_) ||
        row >= static_cast<double>(rows_))
        return;
    const auto c = static_cast<std::size_t>(column);
    const auto r = static_cast<std::size_t>(row);
    canvas.at(c, r) = sign;
    if (name.empty()) return;
    const std::string text = cut(shown(name, set_), 16);
    const std::size_t right_wall = columns_ - 2, wide = columns(text) + 1;
    if (c + wide < right_wall)
        canvas.write(c + 1, r, " " + text);
    else if (c > wide + 2)
        canvas.write(c - wide, r, text + " ");
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
    void row(const std::string& name, const std::vector<Span>& possible,
             const std::vector<Span>& stated, const std::vector<Span>& sure);
    void line(const std::string& name, const Canvas& canvas) {
        const std::string label = cut(shown(name, set_), label_ - 1);
        out_ << label << std::string(label_ - columns(label), ' ') << canvas.line(0) << '\n';
    }
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

void CharacterStrip::row(const std::string& name, const std::vector<Span>& possible,
                         const std::vector<Span>& stated, const std::vector<Span>& sure) {
    Canvas canvas{wide_, 1};
    const auto paint = [&](const std::vector<Span>& spans, const char* sign) {
        for (std::size_t c = 0; c < wide_; ++c)
            for (const Span& s : spans)
                if (s.from <= at(c) && at(c) < s.to) canvas.at(c, 0) = sign;
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
            if (t < rise || t >= set) canvas.at(c, 0) = t >= dawn && t < dusk ? "t" : "n";
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
                  fmt::format("{} sure at every bearing within {}, {} at the bearing stated, {} "
                              "possible at some; sky: t civil twilight, n darker",
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

CharacterSet character_set(bool ascii) {
    CharacterSet set;
    // The first that is set decides, as POSIX orders them.
    const char* deciding = is_set("LC_ALL") ? "LC_ALL" : is_set("LC_CTYPE") ? "LC_CTYPE" : "LANG";
    set.ascii = ascii || !names_utf8(deciding);
    winsize size{};
    if (isatty(STDOUT_FILENO) == 1 && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 &&
        size.ws_col > 0)
        set.columns = std::clamp<std::size_t>(size.ws_col, kNarrowest, text_width);
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
