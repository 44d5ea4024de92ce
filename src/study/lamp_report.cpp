#include "keyhour/study/lamp_report.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "keyhour/site/doubts.hpp"
#include "keyhour/study/found_light.hpp"
#include "keyhour/study/spot_light.hpp"

namespace keyhour::study {

using room::Point2;
using room::Point3;

namespace {

Point3 middle_of(const room::Mark& mark) {
    return {mark.at.x, mark.at.y, mark.height_m};
}

/// From the mark, so far to the right (seen from there) of the line to the camera; level.
Point3 beside_camera(const room::Room& room, const room::Camera& camera, double right_deg) {
    const Point2 c = camera.at - room.marks[camera.aims_at].at;
    const double turn = Angle::degrees(right_deg).in_radians(), far = length(c);
    return {(c.x * std::cos(turn) + c.y * std::sin(turn)) / far,
            (c.y * std::cos(turn) - c.x * std::sin(turn)) / far, 0};
}

class LampReporter {
public:
    LampReporter(const RoomStudy& study, const RoomLight* light, const LampQuestion& question)
        : study_{study},
          scene_{study.scene()},
          room_{study.room()},
          light_{light},
          q_{question},
          lamp_{study.location().lamps[question.lamp]} {}

    LampReport run() {
        if (q_.like) find_sun();
        if (q_.sun_is_key)
            key_by_sun();
        else
            key_by_lamp();
        if (q_.fill && out_.levels.key_lx > 0) find_fill_lamp();
        return std::move(out_);
    }

private:
    void find_sun() {
        const Moment m = study_.path().at(*q_.like);
        SunToMatch sun;
        sun.at = *q_.like;
        sun.toward = study_.sun(m);
        sun.position = study_.path().position(*q_.like);
        const light::SkyState state{sun.position.apparent_altitude, sun.position.true_altitude,
                                    study_.location().site.observer.elevation_m,
                                    sun.position.distance_au};
        sun.kelvin = light::clear_sky(state, air_of(study_.location().site.air)).direct_kelvin;
        out_.sun = sun;
    }

    void sun_through(std::size_t window) {
        if (!out_.sun) return;
        out_.sun->coverage = scene_.coverage(q_.mark, window, out_.sun->toward);
        out_.sun->direct_lx = direct_lx(study_, window, study_.path().at(*q_.like));
    }

    void key_by_sun() {
        out_.wish.window = *q_.window;
        out_.wish.mark = q_.mark;
        sun_through(*q_.window);
        const MarkLight now = light_->at(q_.mark, *q_.window, study_.path().at(*q_.like));
        out_.room_key_side_lx = now.key_lx.likely;
        out_.room_fill_lx = now.fill_lx.likely;
        out_.levels = {now.key_lx.likely, out_.room_fill_lx};
    }

    // --- the lamp ---------------------------------------------------------------------------

    [[nodiscard]] StandWish wish_for(std::size_t window) const {
        StandWish wish;
        wish.window = window;
        wish.mark = q_.mark;
        wish.distance_m = q_.distance_m;
        wish.farthest_m = q_.farthest_m;
        wish.ground_below_m = q_.ground_below_m.value_or(room_.floor_above_ground_m);
        wish.coverage = q_.coverage;
        return wish;
    }

    /// Every window, and either side of the camera: the best of them.
    void key_by_lamp() {
        bool first = true;
        for (std::size_t w = 0; w < room_.windows.size(); ++w) {
            if (q_.window ? w != *q_.window : !scene_.faces(w, q_.mark)) continue;
            for (const StandWish& wish : wishes(w)) {
                const StandAnswer stand = find(wish);
                if (!first && !better(stand, out_.stand)) continue;
                first = false;
                out_.wish = wish;
                out_.stand = stand;
            }
        }
        sun_through(out_.wish.window);
        room_light();
        if (const StandPlace* place = out_.stand.place()) describe(*place);
    }

    [[nodiscard]] std::vector<StandWish> wishes(std::size_t window) const {
        StandWish wish = wish_for(window);
        if (out_.sun) {
            wish.toward = out_.sun->toward;
            return {wish};
        }
        if (q_.through_middle) {
            const Point3 d = scene_.middle(window) - middle_of(room_.marks[q_.mark]);
            wish.toward = (1 / std::sqrt(dot(d, d))) * d;
            return {wish};
        }
        if (!q_.key) return {wish};
        wish.height_m = q_.key->height_m;
        const room::Camera& camera = room_.cameras[q_.key->camera];
        std::vector<StandWish> out;
        for (const bool right : {true, false}) {
            if (q_.key->from_right && *q_.key->from_right != right) continue;
            wish.toward = beside_camera(room_, camera, (right ? 1 : -1) * q_.key->key_angle_deg);
            out.push_back(wish);
        }
        return out;
    }

    [[nodiscard]] StandAnswer find(const StandWish& wish) const {
        if (out_.sun || q_.key || q_.through_middle) return find_stand(scene_, lamp_, wish);
        // From its own place; what is nearest to that is looked for like any other.
        const Point3 at{lamp_.at->x, lamp_.at->y, *lamp_.height_m - wish.ground_below_m};
        StandWish same = wish;
        const Point3 d = at - middle_of(room_.marks[q_.mark]);
        same.distance_m = std::sqrt(dot(d, d));
        same.toward = (1 / *same.distance_m) * d;
        return find_stand(scene_, lamp_, same);
    }

    /// First a place as wished for, the farthest; then one near to it; then what has least against
    /// it.
    static bool better(const StandAnswer& a, const StandAnswer& b) {
        const auto worse = [](const StandAnswer& s) {
            const bool is_there = s.wanted.is_reachable();
            return std::tuple{s.place() == nullptr, !is_there, s.nearest_off_deg,
                              is_there ? -s.wanted.distance_m : 0, s.wanted.obstacles.size()};
        };
        return worse(a) < worse(b);
    }

    void room_light() {
        if (const FoundInRoom* found = study_.found()) out_.forges_lx = found->forge_lx(q_.mark);
        out_.room_fill_lx = out_.forges_lx;  // the room's own light counts them already
        if (!light_ || !q_.room_light_at) return;
        const MarkLight now =
            light_->at(q_.mark, out_.wish.window, study_.path().at(*q_.room_light_at));
        out_.room_key_side_lx = now.key_lx.likely;
        out_.room_fill_lx = now.fill_lx.likely;
        // Through other windows the sun comes from elsewhere than this key.
        for (std::size_t w = 0; w < now.windows.size(); ++w)
            if (w != out_.wish.window) out_.room_fill_lx += now.windows[w].direct_lx;
    }

    void describe(const StandPlace& place) {
        out_.light = light_from(scene_, lamp_, out_.wish, place);
        out_.doubt = stand_doubt(scene_, lamp_, out_.wish, place, site::doubt(lamp_).within_m);
        out_.levels = {out_.light->level_lx + out_.room_key_side_lx,
                       out_.light->given_back_lx + out_.room_fill_lx};
        look_from_camera(place);
        if (!out_.sun) return;
        out_.difference = difference(scene_, lamp_, out_.wish, place, out_.sun->toward,
                                     out_.sun->position.angular_diameter, q_.alike_share);
        if (out_.sun->kelvin) out_.mired_from_sun = 1e6 / lamp_.kelvin - 1e6 / *out_.sun->kelvin;
    }

    void look_from_camera(const StandPlace& place) {
        const auto camera = q_.camera ? q_.camera
                            : q_.key  ? std::optional{q_.key->camera}
                                      : study_.cameras_of(q_.mark).front();
        if (!camera) return;
        const room::Camera& c = room_.cameras[*camera];
        out_.camera = camera;
        out_.key_angle_deg =
            room::key_angle(room_, c, place.at - middle_of(room_.marks[q_.mark])).in_degrees();
        out_.in_frame = room::in_frame(room_, c, place.at - Point3{c.at.x, c.at.y, c.height_m});
    }

    void find_fill_lamp() {
        out_.fill = find_fill(room_, study_.location().lamps[q_.fill->lamp],
                              {q_.mark, out_.levels.key_lx, out_.levels.fill_lx, q_.fill->ratio,
                               q_.fill->convention});
    }

    const RoomStudy& study_;
    const room::Scene& scene_;
    const room::Room& room_;
    const RoomLight* light_;
    const LampQuestion& q_;
    const site::Lamp& lamp_;
    LampReport out_;
};

}  // namespace

LampReport report_lamp(const RoomStudy& study, const RoomLight* light,
                       const LampQuestion& question) {
    return LampReporter{study, light, question}.run();
}

}  // namespace keyhour::study
