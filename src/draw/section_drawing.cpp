#include "section_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/patch_day.hpp"
#include "keyhour/study/sun_in_room.hpp"
#include "section_sheet.hpp"

namespace keyhour::draw {
namespace {

constexpr std::size_t kMostRays = 3;
constexpr std::array<const char*, kMostRays> kDashes{"", "4 1.2", "1 0.9"};
/// Shown outside at least, and at most, m.
constexpr double kLeastOutside = 2.2, kMostOutside = 7;
/// A long room is broken off this far behind mark and patches, m, if that spares as much again.
constexpr double kBehind = 1.5;

double profile_deg(const Ray& ray) {
    return std::atan(ray.slope) * 180 / std::numbers::pi;
}

/// "1 degree", "58 degrees".
std::string degrees_in_words(double degrees) {
    const double whole = std::round(degrees);
    return fmt::format("{:.0f} degree{}", whole, whole == 1 ? "" : "s");
}

}  // namespace

SectionSheet::SectionSheet(const study::RoomStudy& study, const SectionContent& content,
                           const DrawingFrame& frame)
    : study_{study},
      room_{study.room()},
      content_{content},
      frame_{frame},
      window_{room_.windows[content.window]},
      mark_{room_.marks[content.mark]},
      wall_{wall_frame(room_.floor, window_.wall)},
      thick_{wall_thickness(room_, window_.wall)},
      ground_{-room_.floor_above_ground_m},
      rays_{rays()},
      stands_{stands()},
      svg_{frame, fmt::format("Section through {} and {}", window_.name, mark_.name),
           description()},
      labels_{{0, 0, frame.width_mm, 400}} {
    fit();
}

std::string SectionSheet::draw() {
    svg_.begin_clip("paper", 1, 1, frame_.width_mm - 2, paper_bottom_ - 1);
    draw_outside();
    draw_shell();
    draw_rays();
    draw_lamp_rays();
    svg_.end_group();
    draw_mark();
    draw_stands();
    if (!narrow()) draw_dimensions();
    label();
    for (const Wanted& w : wanted_) {
        Labels::Wish wish = w.wish;
        wish.must = false;
        if (labels_.put(svg_, w.lines, wish).is_empty() && w.is_news)
            unplaced_.push_back(fmt::format("{}", fmt::join(w.lines, " ")));
    }
    svg_.rect(0.5, 0.5, frame_.width_mm - 1, paper_bottom_ - 0.5, {pen::opening});
    return svg_.finish(draw_title_block(svg_, paper_bottom_, block()));
}

std::vector<Ray> SectionSheet::rays() const {
    std::vector<Ray> out;
    for (const Instant t : content_.instants) {
        if (out.size() == kMostRays) break;
        const room::Point3 sun = study_.sun(study_.path().at(t));
        const double front = dot(Point2{sun.x, sun.y}, wall_.n);
        if (front <= 0 || sun.z <= 0) continue;
        Ray ray{t,
                site::whole_minutes(t, study_.location().site.zone),
                kDashes[out.size()],
                sun.z / front,
                {}};
        if (study::lets_sun_in(window_))
            ray.lights_mark = study_.scene().coverage(content_.mark, content_.window, sun) > 0;
        for (const room::Patch& p : study_.scene().patches(content_.window, sun)) {
            ray.enters = true;
            if (p.surface.kind == room::Surface::Kind::floor)
                for (const auto& ring : p.outlines)
                    for (const room::Point3& q : ring) {
                        const double w = outward({q.x, q.y});
                        if (!ray.on_floor) ray.on_floor = {w, w};
                        ray.on_floor->first = std::min(ray.on_floor->first, w);
                        ray.on_floor->second = std::max(ray.on_floor->second, w);
                    }
        }
        out.push_back(ray);
    }
    return out;
}

std::string SectionSheet::description() const {
    std::string text = fmt::format(
        "Sill {}, head {}, reveal {}; {} at {}, {} from the wall; floor {} above the ground.",
        told(window_.sill_m), told(head()), told(reveal()), mark_.name, told(mark_.height_m),
        told(-outward(mark_.at)), told(-ground_));
    for (const Ray& ray : rays_) {
        text += fmt::format(" {}: rays fall at {}", ray.clock, degrees_in_words(profile_deg(ray)));
        if (ray.on_floor)
            text += fmt::format(", patch on the floor {} to {} from the wall",
                                told(-ray.on_floor->second), told(-ray.on_floor->first));
        text += '.';
    }
    return text;
}

/// How far the room reaches behind the mark, square to the wall.
double SectionSheet::depth_of_room() const {
    double least = 1e9;
    for (std::size_t i = 0; i < room_.floor.size(); ++i) {
        const Point2 a = room_.floor[i], d = room_.floor[(i + 1) % room_.floor.size()] - a;
        const Point2 u = -1.0 * wall_.n;
        const double det = cross(u, d);
        if (std::abs(det) < 1e-9) continue;
        const double t = cross(a - mark_.at, d) / det, s = cross(a - mark_.at, u) / det;
        if (t > 0 && s >= 0 && s <= 1) least = std::min(least, t);
    }
    return least < 1e9 ? least - outward(mark_.at) : 5;
}

/// To behind the mark, the patches on the floor and the lamps inside.
double SectionSheet::depth_needed() const {
    double reach = -outward(mark_.at);
    for (const Ray& ray : rays_)
        if (ray.on_floor) reach = std::max(reach, -ray.on_floor->first);
    for (const SectionStand& s : stands_)
        if (!s.outside) reach = std::max(reach, -outward(s.at));
    return reach + kBehind;
}

/// Where a block stands to the section's plane, where that does not show: empty if it does.
/// Sun that enters on a ray through a block passes it on one side.
std::string SectionSheet::side_of(const Block& b) const {
    if (b.is_aside) return "stands to the side";
    const bool is_passed = std::ranges::any_of(rays_, [&](const Ray& ray) {
        return ray.enters && head() + ray.slope * (b.near - reveal()) < b.top;
    });
    return is_passed ? "the sun stands to its side" : "";
}

/// Is what stands this far along the wall from the window's middle, and this far outward (or, below
/// zero, inward), too far to the side for this section?
bool SectionSheet::is_aside(double along, double w) const {
    return along >= std::max(2.0, 0.7 * std::abs(w));
}

std::vector<SectionStand> SectionSheet::stands() const {
    const double middle = window_.left_m + window_.width_m / 2;
    std::vector<SectionStand> out;
    for (const SectionStand& s : content_.stands)
        if (!is_aside(std::abs(dot(s.at - wall_.left_corner, wall_.u) - middle), outward(s.at)))
            out.push_back(s);
    return out;
}

std::vector<Block> SectionSheet::blocks() const {
    std::vector<Block> out;
    const double middle = window_.left_m + window_.width_m / 2;
    for (const room::Building& b : room_.buildings) {
        if (b.footprint.empty()) continue;
        Block block{room::words(b), 1e300, -1e300, ground_ + b.height_m, false};
        double nearest_u = 1e300, least_u = 1e300, most_u = -1e300;
        for (const Point2 p : b.footprint) {
            block.near = std::min(block.near, outward(p));
            block.far = std::max(block.far, outward(p));
            const double u = dot(p - wall_.left_corner, wall_.u) - middle;
            least_u = std::min(least_u, u);
            most_u = std::max(most_u, u);
        }
        nearest_u = least_u > 0 ? least_u : most_u < 0 ? -most_u : 0;
        block.is_aside = nearest_u > window_.width_m / 2;
        if (block.near > thick_ && !is_aside(nearest_u, block.near)) out.push_back(block);
    }
    std::ranges::sort(out, {}, &Block::near);
    return out;
}

void SectionSheet::fit() {
    blocks_ = blocks();
    depth_ = depth_of_room();
    if (const double needed = depth_needed(); depth_ > needed + kBehind) {
        depth_ = needed;
        is_broken_ = true;
    }
    inner_ = -(depth_ + kBackWall);
    outer_ = thick_ + kLeastOutside;
    for (const SectionStand& s : stands_)
        if (const double w = outward(s.at); w > 0 && w < 12) outer_ = std::max(outer_, w + 1);
    if (!blocks_.empty() && blocks_.front().near < kMostOutside)
        outer_ = std::max(outer_, blocks_.front().near + 1.4);
    const double margin = narrow() ? 3 : 8;
    const double tall = room_.height_m + kCeiling;
    k_ = std::min((frame_.width_mm - 2 * margin) / (outer_ - inner_), 110 / (tall - ground_));
    // Scales that a ruler has; a phone has none.
    for (const double one_to : {20, 25, 30, 40, 50, 75, 100, 125, 150, 200, 250, 300, 400, 500})
        if (const double scale = 1000 / one_to; scale <= k_ && !narrow()) {
            k_ = scale;
            break;
        }
    left_ = (frame_.width_mm - k_ * (outer_ - inner_)) / 2;
    // The paper shows to its own edges.
    inner_ -= left_ / k_;
    outer_ += left_ / k_;
    left_ = 0;
    floor_ = 9 + k_ * tall;
    paper_bottom_ = floor_ + std::max(k_ * std::max(-ground_, 0.3) + 9, 2 + kLane * kMostRays);
    labels_ = Labels{{2, 2, frame_.width_mm - 2, paper_bottom_ - 1}};
}

/// What the dimension lines of a wider drawing say.
std::string SectionSheet::measures() const {
    std::string text =
        fmt::format("Sill {}, head {}, reveal {}. {}: centre {} up, {} from the wall.",
                    figure(window_.sill_m), figure(head()), figure(reveal()), mark_.name,
                    figure(mark_.height_m), figure(-outward(mark_.at)));
    if (ground_ < -0.02) text += fmt::format(" Floor {} above the ground.", figure(-ground_));
    return text;
}

/// Where it stands: it may be beyond the paper, or aside.
void SectionSheet::add_lamp(TitleBlock& b) const {
    const Point2 lamp{content_.key_lamp->x, content_.key_lamp->y};
    const double aside =
        dot(lamp - wall_.left_corner, wall_.u) - window_.left_m - window_.width_m / 2;
    b.notes.push_back(fmt::format(
        "The lamp stands {} off the wall's outer face, {} to the {} of the window's middle, {} "
        "above the ground.",
        told(outward(lamp) - thick_), told(std::abs(aside)), aside > 0 ? "right" : "left",
        told(content_.key_lamp->z - ground_)));
    b.key.push_back({[](Svg& svg, double x, double y, double w, double h) {
                         svg.line({x, y + h / 2}, {x + w, y + h / 2}, {pen::object, "3 1"});
                     },
                     "the lamp's light past head and sill"});
}

TitleBlock SectionSheet::block() const {
    TitleBlock b;
    b.place = study_.location().site.name;
    b.drawing = fmt::format("Section through {} and {}, {}", window_.name, mark_.name,
                            site::date_in_words(content_.date));
    if (!rays_.empty())
        b.drawing += ", clocks " +
                     site::utc_offset(study_.location().site.zone.at(rays_.front().at).utc_offset);
    if (!frame_.in_page && !narrow())
        b.drawing += fmt::format(", 1:{:.0f} at full size", 1000 / k_);
    for (const Ray& ray : rays_)
        b.key.push_back({[dash = ray.dash](Svg& svg, double x, double y, double w, double h) {
                             svg.line({x, y + h / 2}, {x + w, y + h / 2}, {pen::object, dash});
                         },
                         fmt::format("rays past head and sill at {}, {} in this plane", ray.clock,
                                     degrees_in_words(profile_deg(ray)))});
    if (std::ranges::any_of(rays_, [](const Ray& r) { return r.on_floor.has_value(); }))
        b.key.push_back({[](Svg& svg, double x, double y, double w, double h) {
                             svg.rect(x, y + h / 2 - 1, w, 2, {pen::thin, "", "#fff"});
                             svg.line({x, y + h / 2}, {x + w, y + h / 2}, {1.2});
                         },
                         "patch on the floor"});
    if (!far_block_.empty()) b.notes.push_back(far_block_);
    if (narrow()) b.notes.push_back(measures());
    if (!unplaced_.empty()) b.notes.push_back(fmt::format("Also: {}.", fmt::join(unplaced_, "; ")));
    if (!rays_.empty() && std::ranges::none_of(rays_, &Ray::lights_mark))
        b.notes.push_back(fmt::format("{} is not lit through this window at {}.", mark_.name,
                                      rays_.size() == 1 ? "this hour" : "these hours"));
    if (is_broken_) b.notes.push_back("The room goes on behind the broken line.");
    if (content_.key_lamp)
        add_lamp(b);
    else if (rays_.empty())
        b.notes.push_back("No sun through this window at the times drawn.");
    b.notes.push_back(fmt::format(
        "{}. Square to the wall; rays as they fall on this plane (profile angle): head and sill "
        "are true, what the jambs take away does not show.",
        in_words(frame_.units)));
    return b;
}

void show_lock(const study::PlannedLock& planned, SectionContent& content) {
    content.window = planned.question.window;
    content.mark = planned.question.mark;
    if (!planned.day.lamp) return;
    if (const study::StandPlace* place = planned.day.lamp->stand.place())
        content.key_lamp = place->at;
}

std::vector<SectionStand> stands_of(const site::Location& location) {
    std::vector<SectionStand> out;
    const double ground = location.room ? -location.room->floor_above_ground_m : 0;
    for (const site::Lamp& lamp : location.lamps) {
        const auto height = lamp.height_m ? lamp.height_m : lamp.stand_max_m;
        if (!lamp.at || !height) continue;
        const bool outside = lamp.place == site::Lamp::Place::outside;
        out.push_back({lamp.name, *lamp.at, *height + (outside ? ground : 0), outside});
    }
    return out;
}

std::string draw_section(const study::RoomStudy& study, const SectionContent& content,
                         const DrawingFrame& frame) {
    return SectionSheet{study, content, frame}.draw();
}

}  // namespace keyhour::draw
