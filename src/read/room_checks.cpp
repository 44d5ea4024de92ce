#include "room_checks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "outlines.hpp"

namespace keyhour::read {

namespace {

using room::Ring;
using PartKind = RoomPart::Kind;

constexpr double slack_m = 1e-6;             // below what a tape can tell
constexpr double merely_touching_m2 = 1e-4;  // outlines that share less area only touch
constexpr double camera_off_mark_m = 0.05;

std::string metres(double value) {
    return fmt::format("{:.5g} m", std::abs(value) < slack_m ? 0.0 : value);
}

std::string point(room::Point2 p) {
    return fmt::format("[{:.5g}, {:.5g}]", p.x, p.y);
}

std::string extent(const Ring& floor) {
    const auto [left, right] = std::ranges::minmax(floor, {}, &room::Point2::x);
    const auto [low, high] = std::ranges::minmax(floor, {}, &room::Point2::y);
    return fmt::format("the floor spans x {:.5g} to {:.5g} and y {:.5g} to {:.5g}", left.x, right.x,
                       low.y, high.y);
}

bool in_box_of(const Ring& floor, room::Point2 p) {
    const auto [left, right] = std::ranges::minmax(floor, {}, &room::Point2::x);
    const auto [low, high] = std::ranges::minmax(floor, {}, &room::Point2::y);
    return left.x <= p.x && p.x <= right.x && low.y <= p.y && p.y <= high.y;
}

/// Which wall of the floor is nearest to a point on the plan, and how far off it is in metres.
std::pair<std::size_t, double> nearest_wall(const Ring& floor, room::Point2 p) {
    std::pair<std::size_t, double> best{0, std::numeric_limits<double>::infinity()};
    for (std::size_t i = 0; i < floor.size(); ++i) {
        const room::Point2 from = floor[i], along = floor[(i + 1) % floor.size()] - from;
        const double square = along.x * along.x + along.y * along.y;
        const double share = ((p.x - from.x) * along.x + (p.y - from.y) * along.y) / square;
        const double t = std::clamp(share, 0.0, 1.0);
        const double away = std::hypot(p.x - from.x - t * along.x, p.y - from.y - t * along.y);
        if (away < best.second) best = {i, away};
    }
    return best;
}

class RoomCheck {
public:
    RoomCheck(const room::Room& room, const SoundParts& sound, const Complain& complain)
        : room_{room}, sound_{sound}, complain_{complain} {}

    void run() {
        check_floor();
        for (std::size_t i = 0; i < room_.windows.size(); ++i) {
            if (sound_.windows[i]) check_window(i);
        }
        check_objects();
        for (std::size_t i = 0; i < room_.marks.size(); ++i) {
            if (sound_.marks[i]) check_mark(i);
        }
        for (std::size_t i = 0; i < room_.cameras.size(); ++i) {
            if (sound_.cameras[i]) check_camera(i);
        }
        check_buildings();
    }

private:
    void check_floor() {
        if (!floor_) return;
        if (room::crosses_itself(room_.floor)) {
            complain_({PartKind::room, 0, "floor"}, "the floor's outline crosses or touches itself",
                      "list each corner once, in order around the room");
            floor_ = false;
        }
    }

    void check_window(std::size_t i) {
        const room::Window& w = room_.windows[i];
        const double right = w.left_m + w.width_m, head = w.sill_m + w.height_m;
        bool inside = true;
        if (floor_) {
            const double wall = room::wall_frame(room_.floor, w.wall).width_m;
            if (right > wall + slack_m) {
                complain_({PartKind::window, i, "left_m"},
                          fmt::format("window \"{}\" ends {} along wall \"{}\", which is {} long",
                                      w.name, metres(right), room_.walls[w.wall], metres(wall)),
                          fmt::format("accepted: left_m + width_m up to {}", metres(wall)));
                inside = false;
            }
        }
        if (sound_.height && head > room_.height_m + slack_m) {
            complain_(
                {PartKind::window, i, "sill_m"},
                fmt::format("the head of window \"{}\" is {} above the floor, in a room {} high",
                            w.name, metres(head), metres(room_.height_m)),
                fmt::format("accepted: sill_m + height_m up to {}", metres(room_.height_m)));
        }
        if (inside) check_neighbours(i);
        check_bars(i);
    }

    void check_neighbours(std::size_t i) {
        const room::Window& w = room_.windows[i];
        for (std::size_t j = 0; j < i; ++j) {
            const room::Window& v = room_.windows[j];
            if (!sound_.windows[j] || v.wall != w.wall) continue;
            const bool beside = w.left_m + w.width_m <= v.left_m + slack_m ||
                                v.left_m + v.width_m <= w.left_m + slack_m;
            const bool above = w.sill_m + w.height_m <= v.sill_m + slack_m ||
                               v.sill_m + v.height_m <= w.sill_m + slack_m;
            if (beside || above) continue;
            const auto spans = [](const room::Window& x) {
                return fmt::format("\"{}\" spans {:.5g} to {:.5g} m", x.name, x.left_m,
                                   x.left_m + x.width_m);
            };
            complain_({PartKind::window, i, "left_m"},
                      fmt::format("windows \"{}\" and \"{}\" overlap on wall \"{}\"", v.name,
                                  w.name, room_.walls[w.wall]),
                      fmt::format("{}, {}", spans(v), spans(w)));
        }
    }

    void check_bars(std::size_t i) {
        const room::Window& w = room_.windows[i];
        const auto fits = [&](int count, double across, const char* way) {
            if (count == 0 || count * w.bars.width_m < across - slack_m) return;
            complain_({PartKind::window, i, "bars"},
                      fmt::format("{} {} bars of {} leave no pane in window \"{}\", {} {}", count,
                                  way, metres(w.bars.width_m), w.name, metres(across),
                                  way[0] == 'u' ? "wide" : "high"),
                      "accepted: bars that leave glass between them");
        };
        fits(w.bars.upright, w.width_m, "upright");
        fits(w.bars.level, w.height_m, "level");
        if (w.bars.set_back_m > w.reveal_m + slack_m) {
            complain_({PartKind::window, i, "bars"},
                      fmt::format("the bars of window \"{}\" are set back {} in a reveal of {}",
                                  w.name, metres(w.bars.set_back_m), metres(w.reveal_m)),
                      fmt::format("accepted: set_back_m up to {}", metres(w.reveal_m)));
        }
    }

    void check_objects() {
        for (std::size_t i = 0; i < room_.objects.size(); ++i) {
            object_simple_.push_back(sound_.objects[i]);
            if (!sound_.objects[i]) continue;
            const room::Object& o = room_.objects[i];
            if (room::crosses_itself(o.footprint)) {
                complain_footprint(PartKind::object, i, fmt::format("object \"{}\"", o.name));
                object_simple_[i] = false;
                continue;
            }
            const bool outside =
                floor_ && area_outside_m2(o.footprint, room_.floor) > merely_touching_m2;
            if (outside) {
                complain_({PartKind::object, i, "footprint"},
                          fmt::format("object \"{}\" stands partly outside the floor", o.name),
                          extent(room_.floor));
            }
            if (sound_.height && o.height_m > room_.height_m + slack_m) {
                complain_({PartKind::object, i, "height_m"},
                          fmt::format("object \"{}\" is {} high, the room {}", o.name,
                                      metres(o.height_m), metres(room_.height_m)),
                          fmt::format("accepted: up to {}", metres(room_.height_m)));
            }
        }
    }

    void complain_footprint(PartKind kind, std::size_t i, const std::string& what) {
        complain_({kind, i, "footprint"},
                  fmt::format("the footprint of {} crosses or touches itself", what),
                  "list each corner once, in order around it");
    }

    /// A mark or camera: inside the floor, below the ceiling, in no object.
    bool check_inside(const RoomPart& part, const std::string& what, room::Point2 at,
                      double height_m) {
        bool good = true;
        if (floor_ && !room::contains(room_.floor, at)) {
            complain_({part.kind, part.index, "at"}, off_the_floor(what, at), extent(room_.floor));
            good = false;
        }
        if (sound_.height && height_m >= room_.height_m) {
            complain_({part.kind, part.index, "height_m"},
                      fmt::format("{} is {} above the floor, the ceiling {}", what,
                                  metres(height_m), metres(room_.height_m)),
                      fmt::format("accepted: below {}", metres(room_.height_m)));
            good = false;
        }
        for (std::size_t j = 0; j < room_.objects.size(); ++j) {
            const room::Object& o = room_.objects[j];
            if (!object_simple_[j] || height_m >= o.height_m) continue;
            if (!room::contains(o.footprint, at)) continue;
            complain_(
                {part.kind, part.index, "at"},
                fmt::format("{} at {}, {} high, is inside object \"{}\"", what, point(at),
                            metres(height_m), o.name),
                fmt::format("accepted: beside it, or above its top at {}", metres(o.height_m)));
            good = false;
        }
        return good;
    }

    /// In the notch of an L the extent of the floor says nothing.
    std::string off_the_floor(const std::string& what, room::Point2 at) const {
        if (!in_box_of(room_.floor, at))
            return fmt::format("{} at {} is outside the floor", what, point(at));
        const auto [wall, away_m] = nearest_wall(room_.floor, at);
        const std::string name = wall < room_.walls.size() ? room_.walls[wall] : "";
        return fmt::format(
            "{} at {} is inside the outline's box, but outside its floor: {:.2f} m beyond wall "
            "\"{}\"",
            what, point(at), away_m, name);
    }

    void check_mark(std::size_t i) {
        const room::Mark& m = room_.marks[i];
        check_inside({PartKind::mark, i, ""}, fmt::format("mark \"{}\"", m.name), m.at, m.height_m);
    }

    void check_camera(std::size_t i) {
        const room::Camera& c = room_.cameras[i];
        const std::string what = fmt::format("camera \"{}\"", c.name);
        check_inside({PartKind::camera, i, ""}, what, c.at, c.height_m);
        if (!sound_.marks[c.aims_at]) return;
        const room::Mark& m = room_.marks[c.aims_at];
        const double apart = std::hypot(room::length(c.at - m.at), c.height_m - m.height_m);
        if (apart < camera_off_mark_m) {
            complain_({PartKind::camera, i, "at"},
                      fmt::format("{} stands at the mark \"{}\" that it aims at", what, m.name),
                      "accepted: a place from which it can see the mark");
        }
    }

    void check_buildings() {
        for (std::size_t i = 0; i < room_.buildings.size(); ++i) {
            if (!sound_.buildings[i]) continue;
            const room::Building& b = room_.buildings[i];
            if (room::crosses_itself(b.footprint)) {
                complain_footprint(PartKind::building, i, fmt::format("building \"{}\"", b.name));
                continue;
            }
            if (floor_ && shared_area_m2(b.footprint, room_.floor) > merely_touching_m2) {
                complain_({PartKind::building, i, "footprint"},
                          fmt::format("building \"{}\" overlaps the room's floor", b.name),
                          "accepted: a footprint outside the room; " + extent(room_.floor));
            }
        }
    }

    const room::Room& room_;
    const SoundParts& sound_;
    const Complain& complain_;
    bool floor_ = sound_.floor;
    std::vector<bool> object_simple_;
};

}  // namespace

SoundParts SoundParts::all(const room::Room& room) {
    SoundParts sound;
    sound.windows.assign(room.windows.size(), true);
    sound.marks.assign(room.marks.size(), true);
    sound.cameras.assign(room.cameras.size(), true);
    sound.objects.assign(room.objects.size(), true);
    sound.buildings.assign(room.buildings.size(), true);
    return sound;
}

void check_room(const room::Room& room, const SoundParts& sound, const Complain& complain) {
    RoomCheck{room, sound, complain}.run();
}

std::vector<std::string> room_questions(const room::Room& room) {
    std::vector<std::string> questions;
    for (const room::Window& w : room.windows) {
        if (w.reveal_m == 0) {
            questions.push_back(
                fmt::format("window \"{}\": reveal 0: is the glass flush with both faces of the "
                            "wall? A forgotten "
                            "reveal makes every hold too long.",
                            w.name));
        }
        const double wall = room::wall_frame(room.floor, w.wall).width_m;
        const bool whole_wall = w.left_m < slack_m && w.width_m > wall - slack_m;
        const bool whole_height = w.sill_m < slack_m && w.height_m > room.height_m - slack_m;
        if (whole_wall || whole_height) {
            questions.push_back(fmt::format(
                "window \"{}\" fills its wall from {}: are these the sizes of the clear opening, "
                "without its frame?",
                w.name, whole_wall ? "corner to corner" : "floor to ceiling"));
        }
    }
    if (room.bearing.within == Angle{}) {
        questions.emplace_back(
            "bearing: within_deg = 0: is the wall's bearing known without any doubt? "
            "Three degrees change a hold by half.");
    }
    return questions;
}

namespace {

bool same_opening(const room::Window& a, const room::Window& b) {
    return a.name == b.name && a.wall == b.wall && a.left_m == b.left_m && a.width_m == b.width_m &&
           a.sill_m == b.sill_m && a.height_m == b.height_m && a.reveal_m == b.reveal_m;
}

bool same_place(room::Point2 a, room::Point2 b) {
    return a.x == b.x && a.y == b.y;
}

}  // namespace

std::optional<std::string> starter_question(const room::Room& room, const room::Room& starter) {
    std::vector<std::string> parts;
    if (std::ranges::equal(room.floor, starter.floor, same_place)) parts.emplace_back("the floor");
    if (room.bearing.faces == starter.bearing.faces && room.bearing.wall == starter.bearing.wall)
        parts.emplace_back("which way a wall faces");
    const std::size_t by_chance = parts.size();  // a room of 5 by 4 m may well face south
    for (const room::Window& w : room.windows)
        if (same_opening(w, starter.windows.front()))
            parts.push_back(fmt::format("window \"{}\"", w.name));
    for (const room::Mark& m : room.marks)
        if (m.name == starter.marks.front().name && same_place(m.at, starter.marks.front().at))
            parts.push_back(fmt::format("mark \"{}\"", m.name));
    if (parts.size() == by_chance) return std::nullopt;
    std::string list;
    for (std::size_t i = 0; i < parts.size(); ++i)
        list += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
    const bool all = parts.size() == 4 && by_chance == 2;
    return fmt::format("{}: measure {} before you trust an answer.",
                       all ? "this is still the starter" : "some of this is still the starter's",
                       list);
}

}  // namespace keyhour::read
