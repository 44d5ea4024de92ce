#include "plan_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "figures.hpp"
#include "keyhour/site/magnetic.hpp"
#include "keyhour/site/plan_frame.hpp"
#include "keyhour/site/read_back.hpp"
#include "keyhour/study/patch_day.hpp"
#include "plan_sheet.hpp"
#include "plan_symbols.hpp"
#include "words/length.hpp"

namespace keyhour::draw {
namespace {

/// How far a patch is followed to see which way it travels.
constexpr Seconds kTravel{600};

constexpr std::array<Hatch, most_plan_hours> kHourHatches{{{45, 1.9, 0.22},
                                                           {-45, 1.9, 0.22},
                                                           {45, 1.5, 0.52, Hatch::Kind::dots},
                                                           {90, 1.3, 0.22},
                                                           {0, 1.3, 0.22},
                                                           {45, 1.9, 0.22, Hatch::Kind::crossed}}};

}  // namespace

PlanDrawing PlanSheet::draw() {
    prepare_hours();
    svg_.begin_clip("paper", extent_.paper.left, extent_.paper.top,
                    extent_.paper.right - extent_.paper.left,
                    extent_.paper.bottom - extent_.paper.top);
    draw_surroundings();
    if (location_.room) draw_room();
    draw_lamps();
    draw_spots();
    svg_.end_group();
    draw_corner_signs();
    draw_far();
    draw_symbols();
    label_all();
    svg_.rect(extent_.paper.left, extent_.paper.top, extent_.paper.right - extent_.paper.left,
              extent_.paper.bottom - extent_.paper.top, {pen::opening});
    const double bottom = draw_title_block(svg_, extent_.paper.bottom, block());
    return {svg_.finish(bottom), extent_.scale, frame_.width_mm, bottom, numbered_};
}

std::string PlanSheet::description() const {
    std::string text =
        fmt::format("Lighting plan, {}, seen from above.", site::date_in_words(content_.date));
    if (location_.room) {
        const room::Room& room = *location_.room;
        text += fmt::format(" {} windows, {} marks, {} cameras. {}.", room.windows.size(),
                            room.marks.size(), room.cameras.size(),
                            site::wall_in_words(room, room.bearing.wall));
    }
    if (study_ == nullptr) return text;
    for (const Instant t : content_.hours) {
        text += fmt::format(" {}:", site::whole_minutes(t, location_.site.zone));
        const auto now = study::patches_at(*study_, t);
        for (const study::WindowPatch& p : now.patches)
            text += fmt::format(" {} on {} through {};", words::area(p.patch.area_m2, frame_.units),
                                room::words(p.patch.surface, study_->room()),
                                study_->room().windows[p.window].name);
        if (now.patches.empty()) text += " no sun in the room;";
        text.back() = '.';
    }
    return text;
}

Point2 PlanSheet::on_paper(Azimuth bearing) const {
    const double a =
        (bearing.from_north - site::PlanFrame{location_}.bearing_of_y().from_north).in_radians();
    return {std::sin(a), -std::cos(a)};
}

void PlanSheet::prepare_hours() {
    if (study_ == nullptr) return;
    for (std::size_t i = 0; i < std::min(content_.hours.size(), kHourHatches.size()); ++i) {
        const Instant t = content_.hours[i];
        hours_.push_back({t, site::whole_minutes(t, location_.site.zone), kHourHatches[i],
                          study::patches_at(*study_, t), study::patches_at(*study_, t + kTravel)});
    }
}

void PlanSheet::draw_building(const room::Ring& footprint, const Stroke& stroke, bool is_tree,
                              const std::string& label, bool must) {
    if (footprint.size() < 3) return;
    const auto seen = clipped(extent_.at(footprint), extent_.paper.grown(-0.6));
    if (seen.size() >= 3 && std::abs(room::signed_area(seen)) > 4) {
        svg_.shape({extent_.at(footprint)}, stroke);
        const Point2 middle = centroid(seen);
        if (is_tree) svg_.circle(middle, 0.6, {pen::thin, "", "#000"});
        labels_.forbid(seen);
        building_labels_.push_back(
            {{label}, {middle, is_tree ? 1.5 : 0.5, {letters::small}, !is_tree, 25}, must});
        return;
    }
    go_beyond(at(centroid(footprint)), off_room(footprint), label);
}

/// How far a thing stands from the room's nearest wall, from the site without a room, m.
double PlanSheet::off_room(const room::Ring& there) const {
    if (!location_.room) return length(centroid(there));
    return distance_between(location_.room->floor, there);
}

bool PlanSheet::is_on_paper(Point2 p) const {
    const Box inner = extent_.paper.grown(-4);
    return p.x > inner.left && p.x < inner.right && p.y > inner.top && p.y < inner.bottom;
}

/// Told at the paper's edge.
void PlanSheet::go_beyond(Point2 there, double away, const std::string& label) {
    const Point2 way = there - extent_.paper.middle();
    if (length(way) < 1) return;
    far_.push_back({away, (1 / length(way)) * way,
                    fmt::format("{}, {} off", label, outside_length(away, frame_.units, 0))});
}

void PlanSheet::draw_surroundings() {
    const auto& all = site::buildings(location_);
    std::size_t own = 0;
    for (const room::Building& b : all)
        own += b.kind == room::Building::Kind::building ? 1 : 0;
    own -= std::min(own, location_.imported_buildings);
    std::size_t i = 0;
    for (const room::Building& b : all) {
        if (b.kind != room::Building::Kind::building) continue;
        draw_building(b.footprint, {pen::object, "", "#fff"}, false,
                      b.name + ", " + outside_length(b.height_m, frame_.units) + " high",
                      i++ < own);
    }
    for (const site::Tree& t : location_.trees)
        draw_building(t.footprint, {pen::thin, is_closed(t, content_.date) ? "" : "1.5 1"}, true,
                      fmt::format("{}, {} high{}", t.name, outside_length(t.height_m, frame_.units),
                                  is_closed(t, content_.date) ? "" : ", lets sun through"),
                      true);
}

/// NaN where the model of the field does not serve.
double PlanSheet::magnetic_east_deg() const {
    const double year = static_cast<int>(content_.date.year()) +
                        (static_cast<unsigned>(content_.date.month()) - 0.5) / 12;
    const auto d = site::declination(location_.site.observer, year);
    return d ? d->in_degrees() : std::numeric_limits<double>::quiet_NaN();
}

std::string PlanSheet::norths_in_words() const {
    const double east = magnetic_east_deg();
    if (!std::isfinite(east)) return "N: true north.";
    return fmt::format("N: true north; {}magnetic north {:.1f} degrees {} of it.",
                       is_told_apart(east) ? "dashed beside it, " : "", std::abs(east),
                       east < 0 ? "west" : "east");
}

void PlanSheet::draw_corner_signs() {
    const double radius = narrow() ? 4.5 : 8;
    const Point2 north = on_paper(Azimuth{});
    const Box sign = norths_box(radius, north, magnetic_east_deg());
    const Point2 middle{extent_.paper.right - 1.5 - sign.right, extent_.paper.top + 1.5 - sign.top};
    draw_norths(svg_, middle, radius, north, magnetic_east_deg());
    labels_.keep_free(
        {middle.x + sign.left, middle.y + sign.top, middle.x + sign.right, middle.y + sign.bottom});
    const Point2 bar{extent_.paper.left + 5, extent_.paper.bottom - 4};
    const double width = draw_scale_bar(svg_, bar, k(), narrow() ? 40 : 60, frame_.units);
    labels_.keep_free({bar.x - 3, bar.y - 4.5, bar.x + width + 6, bar.y + 3});
}

std::vector<KeyEntry> PlanSheet::key() const {
    std::vector<KeyEntry> out;
    for (const HourPatches& hour : hours_)
        out.push_back({[hatch = hour.hatch](Svg& svg, double x, double y, double w, double h) {
                           svg.rect(x, y, w, h, {pen::thin, "", hatch});
                       },
                       "sun at " + hour.label});
    if (!hours_.empty())
        out.push_back({[](Svg& svg, double x, double y, double w, double h) {
                           svg.circle({x + 0.6, y + h / 2}, 0.55, {pen::thin, "", "#000"});
                           svg.arrow({x, y + h / 2}, {x + w, y + h / 2}, {pen::object}, 2.4);
                       },
                       "the patch travels this way"});
    if (!bars_.empty())
        out.push_back({[](Svg& svg, double x, double y, double w, double h) {
                           svg.line({x, y + 0.4}, {x + w, y + 0.4}, {pen::wall});
                           svg.rect(x + 1.5, y + 0.9, w - 3, h - 1.6);
                       },
                       "sun on a wall"});
    if (!location_.room) return out;
    out.push_back({[](Svg& svg, double x, double y, double w, double h) {
                       draw_mark(svg, {x + w / 2, y + h / 2});
                   },
                   "mark"});
    if (!content_.covers.empty())
        out.push_back({[](Svg& svg, double x, double y, double w, double h) {
                           svg.line({x, y + h / 2}, {x + w, y + h / 2}, {1.3, "3 0.8"});
                       },
                       content_.planned ? "cloth to hang before the lock begins"
                                        : "cover to hang while the key is used"});
    if (content_.planned && content_.planned->day.lamp && content_.planned->day.lamp->light)
        out.push_back({[](Svg& svg, double x, double y, double w, double h) {
                           svg.line({x, y + h / 2}, {x + w, y + h / 2}, {pen::object, "3 1"});
                       },
                       "the lamp's light past the jambs, and its patch on the floor"});
    return out;
}

std::vector<std::string> PlanSheet::notes() const {
    std::vector<std::string> out;
    bool has_sizes = false;
    if (location_.room) {
        out.push_back(site::wall_in_words(*location_.room, location_.room->bearing.wall));
        if (hours_.empty() && content_.planned)
            out.emplace_back("Drawn for the lock, its cloth hung: the sun's patches are left out.");
        else if (hours_.empty())
            out.emplace_back("No direct sun lands in the room on this date.");
        else if (!location_.room->marks.empty())
            out.push_back(
                fmt::format("Patches lie on floor, objects and walls; a mark is judged at its "
                            "height (lit: {:.0f} % of it in the sun).",
                            100 * study::KeySettings{}.coverage));
        out.insert(out.end(), lit_marks_.begin(), lit_marks_.end());
        has_sizes = !narrow() && !location_.room->windows.empty();
    }
    out.push_back(fmt::format("{} {}{}.", norths_in_words(), in_words(frame_.units),
                              has_sizes ? "; sizes of openings are clear width x height" : ""));
    if (!unplaced_.empty())
        out.push_back(fmt::format("Beyond the paper's edge: {}.", fmt::join(unplaced_, "; ")));
    if (far_.size() > kFarNamed)
        out.push_back(
            fmt::format("{} more stand beyond the paper's edge.", far_.size() - kFarNamed));
    return out;
}

TitleBlock PlanSheet::block() const {
    TitleBlock b;
    b.place = location_.site.name;
    b.drawing = "Plan, " + site::date_in_words(content_.date);
    const site::Zone& zone = location_.site.zone;
    if (!hours_.empty())
        b.drawing += ", clocks " + site::utc_offset(zone.at(hours_.front().at).utc_offset);
    if (!frame_.in_page && !narrow())
        b.drawing += fmt::format(", 1:{} at full size", draw::number(extent_.one_to));
    b.key = key();
    b.notes = notes();
    if (!frame_.in_page) b.numbered = numbered_;
    return b;
}

PlanDrawing draw_plan(const site::Location& location, const study::RoomStudy* room,
                      const PlanContent& content, const DrawingFrame& frame) {
    return PlanSheet{location, room, content, frame}.draw();
}

}  // namespace keyhour::draw
