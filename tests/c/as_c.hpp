#pragma once
/// @file
/// A room::Room as C describes it.

#include <vector>

#include "keyhour/keyhour.h"
#include "keyhour/room/room.hpp"

namespace keyhour::test {

/// Owns the arrays that the C description points to.
class AsC {
public:
    explicit AsC(const room::Room& r) {
        floor_ = points(r.floor);
        for (const room::Window& w : r.windows)
            windows_.push_back({w.wall, w.left_m, w.width_m, w.sill_m, w.height_m, w.reveal_m,
                                w.bars.upright, w.bars.level, w.bars.width_m, w.bars.set_back_m});
        for (const room::Mark& m : r.marks) {
            keyhour_mark mark{m.at.x, m.at.y, m.height_m, m.radius_m, {0, 0, 0}};
            for (std::size_t i = 0; m.box_m && i < 3; ++i)
                mark.box_m[i] = (*m.box_m)[i];
            marks_.push_back(mark);
        }
        for (const room::Camera& c : r.cameras)
            cameras_.push_back({c.at.x, c.at.y, c.height_m, c.aims_at, c.view.in_degrees(),
                                c.view_vertical.in_degrees()});
        outlines_.reserve(r.objects.size() + r.buildings.size());
        for (const room::Object& o : r.objects)
            objects_.push_back(body(o.footprint, o.height_m));
        for (const room::Building& b : r.buildings)
            buildings_.push_back(body(b.footprint, b.height_m));
        room_ = {
            floor_.data(),          floor_.size(),   r.height_m,
            r.floor_above_ground_m, r.bearing.wall,  r.bearing.faces_true().from_north.in_degrees(),
            windows_.data(),        windows_.size(), marks_.data(),
            marks_.size(),          cameras_.data(), cameras_.size(),
            objects_.data(),        objects_.size(), buildings_.data(),
            buildings_.size()};
    }
    AsC(const AsC&) = delete;
    AsC& operator=(const AsC&) = delete;

    [[nodiscard]] const keyhour_room& room() const { return room_; }

private:
    static std::vector<keyhour_point2> points(const room::Ring& ring) {
        std::vector<keyhour_point2> out;
        for (const room::Point2 p : ring)
            out.push_back({p.x, p.y});
        return out;
    }
    keyhour_body body(const room::Ring& footprint, double height_m) {
        outlines_.push_back(points(footprint));
        return {outlines_.back().data(), outlines_.back().size(), height_m};
    }

    std::vector<keyhour_point2> floor_;
    std::vector<std::vector<keyhour_point2>> outlines_;
    std::vector<keyhour_window> windows_;
    std::vector<keyhour_mark> marks_;
    std::vector<keyhour_camera> cameras_;
    std::vector<keyhour_body> objects_, buildings_;
    keyhour_room room_{};
};

}  // namespace keyhour::test
