// The minutes of set-ups and moves, by hand.

#include "keyhour/study/shoot.hpp"

#include <catch2/catch.hpp>

using namespace keyhour;
using namespace keyhour::study;

namespace {

site::TaskMinutes by(int crew, double minutes) {
    site::TaskMinutes m;
    m.crew = crew;
    m.minutes = minutes;
    return m;
}

Shoot at_three_places() {
    Shoot shoot;
    shoot.places.resize(3);
    for (std::size_t i = 0; i < 3; ++i)
        shoot.places[i].location.site.observer = {
            Angle::degrees(0.1 * static_cast<double>(i)), {}, 0};
    shoot.moves = {{0, 1, std::chrono::minutes{12}}, {2, 1, std::chrono::minutes{25}}};
    shoot.rules.speed_kmh = 40;
    shoot.rules.load = std::chrono::minutes{10};
    return shoot;
}

}  // namespace

TEST_CASE("a set-up takes what it takes the largest crew that is not above the shoot's",
          "[shoot]") {
    ShootScene scene;
    CHECK(set_up_minutes(scene, 1) == 0);  // nothing to set up
    scene.set_up = {by(2, 60), by(3, 35.2)};
    CHECK(set_up_minutes(scene, 1) == std::nullopt);
    CHECK(set_up_minutes(scene, 2) == 60);
    CHECK(set_up_minutes(scene, 3) == 36);  // whole minutes, up
    CHECK(set_up_minutes(scene, 8) == 36);
}

TEST_CASE("a move takes what the file says either way, and between other places its distance",
          "[shoot]") {
    const Shoot shoot = at_three_places();
    CHECK(move_minutes(shoot, 1, 1) == 0);
    CHECK(move_minutes(shoot, 0, 1) == 12);
    CHECK(move_minutes(shoot, 1, 0) == 12);
    CHECK(move_minutes(shoot, 1, 2) == 25);
    CHECK(move_minutes(shoot, 2, 1) == 25);
    // 0.2 degrees of the meridian at the equator: 22.115 km (WGS 84: 110.574 km a degree there);
    // by road 1.3 times that, 28.75 km: 43.1 minutes at 40 km/h, and the load.
    CHECK(move_minutes(shoot, 0, 2) == 44 + 10);
    CHECK(move_minutes(shoot, 2, 0) == 44 + 10);
}
