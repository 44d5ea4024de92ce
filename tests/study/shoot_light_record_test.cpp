// The light of shoots' scenes, whole.

#include <array>
#include <catch2/catch.hpp>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/shoot_light.hpp"
#include "read/location_file.hpp"
#include "read/shoot_file.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

Shoot example_shoot() {
    return *read::read_shoot(KEYHOUR_LOCATIONS "/bindery-and-wharf/shoot.toml");
}

void add_light(Record& record, const Shoot& shoot, std::size_t first_day = 0,
               std::span<const std::size_t> done = {}) {
    const auto light = light_of(shoot, first_day, done);
    REQUIRE(light);
    record.add("first_day", light->first_day);
    for (std::size_t i = 0; i < shoot.scenes.size(); ++i)
        for (std::size_t d = 0; d < shoot.days.size(); ++d)
            record.add("scene", std::pair{i, light->of(i, d)});
}

constexpr std::array by_sky{LightWanted::daylight, LightWanted::dusk, LightWanted::night,
                            LightWanted::any};
constexpr std::array by_side{LightWanted::late, LightWanted::front, LightWanted::side,
                             LightWanted::back, LightWanted::direct};

ShootScene scene_in(LightWanted light, std::optional<std::size_t> spot = {}) {
    ShootScene scene;
    scene.light = light;
    scene.spot = spot;
    scene.length = std::chrono::minutes{12};
    return scene;
}

/// A place of one spot, looked at by its skies and sides.
Shoot at_field(double latitude_deg, std::vector<site::LocalDate> days) {
    Shoot shoot;
    shoot.days = std::move(days);
    ShootPlace place;
    place.location.site.observer = {Angle::degrees(latitude_deg), {}, 0};
    site::Spot spot;
    spot.position = place.location.site.observer;
    spot.camera_bearing = Angle::degrees(250);
    spot.wants = site::Side::back;
    place.location.spots = {spot};
    shoot.places = {place};
    for (const LightWanted light : by_sky)
        shoot.scenes.push_back(scene_in(light));
    for (const LightWanted light : by_side)
        shoot.scenes.push_back(scene_in(light, 0));
    return shoot;
}

}  // namespace

TEST_CASE("the light of the example's scenes is that recorded", "[recorded][shoot]") {
    Record record{"shoot_light"};
    Shoot shoot = example_shoot();
    add_light(record, shoot);
    const std::array<std::size_t, 3> done{0, 3, 5};
    add_light(record, shoot, 1, done);
    record.check();
}

TEST_CASE("the light of keys asked by name is that recorded", "[recorded][shoot]") {
    Record record{"shoot_keys"};
    Shoot shoot = example_shoot();
    site::Location& l = shoot.places[0].location;
    // A second camera of the mark, a second mark, and a tree that takes the sun when in leaf.
    l.room->cameras.push_back({"B", {2.6, 3.9}, 1.4, 0});
    l.room->marks.push_back({"press", {5.0, 1.6}, 1.2, 0.15, {}});
    l.trees = {
        {"plane", site::round_crown({9.5, 2.2}, 3), 8, 0.9, 0.2, date::month{5}, date::month{10}}};
    shoot.days = {2026_y / 4 / 29, 2026_y / 5 / 2};
    const ShootScene from = shoot.scenes[0];
    shoot.scenes.clear();
    for (const LightWanted light : {LightWanted::sun_key, LightWanted::lamp_key})
        for (const std::optional<std::size_t> window : {std::optional<std::size_t>{}, {0}, {1}})
            for (const std::optional<std::size_t> camera : {std::optional<std::size_t>{}, {0}}) {
                ShootScene scene = from;
                scene.light = light;
                scene.window = window;
                scene.camera = camera;
                scene.mark = camera ? std::optional<std::size_t>{0} : std::nullopt;
                scene.length = std::chrono::minutes{window ? 20 : 200};
                scene.over_run = std::chrono::minutes{window == 1U ? 15 : 0};
                shoot.scenes.push_back(scene);
            }
    shoot.rules.hours = {std::chrono::hours{7}, std::chrono::hours{19}};
    add_light(record, shoot);
    record.check();
}

TEST_CASE("the light of sun keys by mark and camera is that recorded", "[recorded][shoot]") {
    Record record{"shoot_sun_keys"};
    Shoot shoot = example_shoot();
    room::Room& room = *shoot.places[0].location.room;
    room.cameras.push_back({"B", {3.2, 3.4}, 1.4, 0});
    room.cameras.push_back({"C", {4.6, 0.5}, 1.3, 1});
    room.marks.push_back({"press", {4.9, 1.7}, 1.1, 0.15, {}});
    const ShootScene from = shoot.scenes[2];
    shoot.scenes.clear();
    for (const std::optional<std::size_t> mark : {std::optional<std::size_t>{}, {0}, {1}})
        for (const std::optional<std::size_t> camera : {std::optional<std::size_t>{}, {0}, {1}}) {
            ShootScene scene = from;
            scene.mark = mark;
            scene.camera = camera;
            shoot.scenes.push_back(scene);
        }
    add_light(record, shoot);
    // At a bearing that is hardly known some keys are possible alone.
    room.bearing.within = Angle::degrees(30);
    shoot.days = {2026_y / 3 / 10, 2026_y / 9 / 20, 2026_y / 11 / 2};
    add_light(record, shoot);
    record.check();
}

TEST_CASE("the light of lamp keys in an L is that recorded", "[recorded][shoot]") {
    // A bearing known to twenty degrees only leaves light that is possible and no more.
    Record record{"shoot_lamp_keys"};
    Shoot shoot = example_shoot();
    shoot.places.resize(1);
    shoot.places[0].location = *read::read_location(KEYHOUR_LOCATIONS "/flax-road.toml");
    shoot.places[0].location.room->bearing.within = Angle::degrees(20);
    shoot.days = {2026_y / 6 / 20};
    ShootScene scene = shoot.scenes[0];
    scene.people.clear();
    shoot.scenes.clear();
    for (const LightWanted light : {LightWanted::lamp_key, LightWanted::sun_key})
        for (const std::optional<std::size_t> mark : {std::optional<std::size_t>{}, {0}, {1}})
            for (const auto& [length, over_run] :
                 {std::pair{200, 190}, {205, 5}, {200, 0}, {10, 0}, {260, 0}, {300, 0}, {340, 0}}) {
                scene.light = light;
                scene.mark = mark;
                scene.camera.reset();
                scene.window.reset();
                scene.length = std::chrono::minutes{length};
                scene.over_run = std::chrono::minutes{over_run};
                shoot.scenes.push_back(scene);
            }
    // By a window alone.
    for (std::size_t window = 0; window < 4; ++window) {
        scene.light = LightWanted::sun_key;
        scene.mark.reset();
        scene.window = window;
        shoot.scenes.push_back(scene);
    }
    scene.window.reset();
    // By a camera alone: its mark's windows.
    for (const std::size_t camera : {0U, 1U}) {
        scene.light = LightWanted::lamp_key;
        scene.mark.reset();
        scene.camera = camera;
        scene.length = std::chrono::minutes{60};
        shoot.scenes.push_back(scene);
    }
    add_light(record, shoot);
    record.check();
}

TEST_CASE("the light of skies and sides is that recorded", "[recorded][shoot]") {
    Record record{"shoot_skies"};
    for (const auto& [latitude, days] :
         {std::pair{53.0, std::vector<site::LocalDate>{2026_y / 3 / 28, 2026_y / 6 / 21}},
          {69.6, {2026_y / 5 / 18, 2026_y / 6 / 21, 2026_y / 7 / 26, 2026_y / 12 / 21}},
          {84.0, {2026_y / 10 / 1, 2026_y / 12 / 21}},
          // Neither civil nor darker than nautical twilight, all day.
          {89.5, {2026_y / 3 / 20, 2026_y / 10 / 16}},
          // Days around those on which the twilight begins or ends to have a dusk.
          {66.0, {2026_y / 4 / 20, 2026_y / 4 / 21, 2026_y / 4 / 22, 2026_y / 12 / 20}},
          {-40.0, {2026_y / 9 / 1}}})
        add_light(record, at_field(latitude, days));
    // Where the clocks stand twelve hours off, the sun sets after midnight and rises before it.
    Shoot shoot = at_field(53, {2026_y / 3 / 28});
    shoot.places[0].location.site.zone = *site::Zone::named("FAR12");
    add_light(record, shoot);
    record.check();
}

TEST_CASE("years beyond the sun's series have no light", "[shoot]") {
    CHECK_FALSE(light_of(at_field(53, {2250_y / 1 / 1})));
}
