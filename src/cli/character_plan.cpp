#include <fmt/format.h>
#include <fmt/ostream.h>

#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <ostream>

#include "character_canvas.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/patch_day.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

using room::Point2;

constexpr std::size_t kTallest = 34;
constexpr double kTallness = 2;  // a character is about twice as tall as wide
constexpr std::size_t kMostHours = 9;
constexpr double kWall = 0.3;  // m, where no reveal says more

/// So many at most, evenly from first to last.
std::vector<Instant> thinned(const std::vector<Instant>& all, std::size_t most) {
    if (all.size() <= most) return all;
    std::vector<Instant> out;
    for (std::size_t i = 0; i < most; ++i)
        out.push_back(all[i * (all.size() - 1) / (most - 1)]);
    return out;
}

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

}  // namespace

void print_plan(std::ostream& out, const study::RoomStudy& study, const std::vector<Instant>& hours,
                const CharacterSet& set) {
    CharacterPlan{study, hours, set}.print(out);
}

}  // namespace keyhour::cli
