// What rooms thrown at random give back, and the clear parts of their openings.

#include <catch2/catch.hpp>

#include "../../src/study/room_surfaces.hpp"
#include "lamp_places.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

/// So far aside of the outward normal of a window, so high.
room::Point3 sun_before(const room::Scene& scene, std::size_t window, double aside, double high) {
    const room::Point2 n = scene.frame(window).n;
    return test::direction(std::atan2(n.y, n.x) + aside, high);
}

}  // namespace

TEST_CASE("surfaces of rooms are those recorded", "[recorded][room_surfaces]") {
    Record record{"room_surfaces"};
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        room::Room r = *random_place(seed).room;
        r.reflectance = {0.15, 0.45, 0.8};
        for (std::size_t w = 0; w < r.windows.size(); ++w)
            r.windows[w].glass = static_cast<room::Glass>((seed + w) % 3);
        const room::Scene scene{r};
        for (std::size_t w = 0; w < r.windows.size(); ++w) {
            record.add("panes", panes_of(r.windows[w]));
            record.add("back", reflectances_for(r, r.windows[w]));
            for (const double aside : {-1.4, -0.5, 0.0, 0.8, 1.6})
                for (const double high : {-0.3, 0.0, 0.2, 1.3}) {
                    const room::Point3 sun = sun_before(scene, w, aside, high);
                    const auto part = clear_part(scene, w, sun);
                    record.add("part", part);
                    record.add("landing", landing_reflectance(scene, w, sun));
                    if (part && high > 0)
                        record.add("point", point_of(*part, scene.frame(w), 0.2, 0.7));
                }
        }
    }
    record.check();
}

TEST_CASE("walls give back as walls, all else as the floor", "[room_surfaces]") {
    using Kind = room::Surface::Kind;
    const room::Reflectance r{0.1, 0.4, 0.9};
    CHECK(reflectance_of({Kind::floor, 0}, r) == 0.1);
    CHECK(reflectance_of({Kind::wall, 2}, r) == 0.4);
    CHECK(reflectance_of({Kind::object, 1}, r) == 0.1);
}
