// Days on which the sun comes as a shot's key did, and the changes of a room's light, whole.

#include <array>
#include <catch2/catch.hpp>

#include "flax_road.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/light_changes.hpp"
#include "keyhour/study/light_match.hpp"
#include "recorded.hpp"
#include "support/random_location.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

site::Location example(const char* name) {
    return *read::read_location(std::string{KEYHOUR_LOCATIONS "/"} + name);
}

ShotLight shot_at(const RoomStudy& study, std::size_t mark, std::size_t window, Instant t) {
    ShotLight shot;
    shot.mark = mark;
    shot.window = window;
    shot.toward = study.path().at(t).toward;
    shot.coverage = sunlit_share(study, mark, window, study.path().at(t));
    return shot;
}

LevelVector direction_of(double azimuth_deg, double altitude_deg) {
    const Angle az = Angle::degrees(azimuth_deg), h = Angle::degrees(altitude_deg);
    return {sin(az) * cos(h), cos(az) * cos(h), sin(h)};
}

/// A wide window to the south that lights the mark for hours.
site::Location wide_window() {
    WorkedRoom worked;
    worked.faces_deg = 190;
    site::Location l = worked.location();
    l.room->windows[0].left_m = 0.5;
    l.room->windows[0].width_m = 5;
    l.room->marks[0].at = {3, 0.9};
    return l;
}

}  // namespace

TEST_CASE("matches of shots are those recorded", "[recorded][match]") {
    Record record{"light_matches"};
    const site::LocalDate first = 2026_y / 2 / 16, last = 2026_y / 2 / 20;
    const OnDates on{example("tallow-lane.toml"), first, last};
    const Instant shot_on = on.start_of(first, 1);
    MatchSettings settings;
    const auto add = [&](const ShotLight& shot) {
        for (const DateMatch& match : light_matches(on.study, first, last, shot, settings)) {
            record.add("match", match);
            record.add("agrees", match.agrees());
        }
    };
    for (const double hour : {11.6, 13.5, 15.2})
        for (std::size_t window = 0; window < 3; ++window)
            add(shot_at(on.study, 0, window, shot_on + Seconds{3600 * hour}));
    const ShotLight shot = shot_at(on.study, 0, 1, shot_on + Seconds{3600 * 13.7});
    for (const double within_deg : {0.05, 0.4, 15.0, 30.0}) {
        settings.within_deg = within_deg;
        add(shot);
    }
    settings.coverage = 0.3;
    settings.hours = {std::chrono::hours{0}, std::chrono::hours{24}};
    add(shot);
    settings.hours = {std::chrono::minutes{90}, std::chrono::minutes{13 * 60 + 20}};
    add(shot);
    settings.hours = {std::chrono::minutes{14 * 60 + 5}, std::chrono::hours{26}};
    add(shot);
    settings.within_deg = 1;
    for (const double coverage : {0.0, 0.01, 0.2, 0.9}) {
        ShotLight partly = shot;
        partly.coverage = coverage;
        add(partly);
    }
    record.check();
}

TEST_CASE("matches while the clocks change at noon are those recorded", "[recorded][match]") {
    // Clocks that are put on at 12:00 and back at 13:00: times by day that no clock shows, and
    // times that come twice.
    Record record{"light_matches_clocks"};
    site::Location l = wide_window();
    l.site.zone = *site::Zone::named("AAA0BBB-1,M3.5.0/12,M10.5.0/13");
    for (const site::LocalDate first : {2026_y / 3 / 28, 2026_y / 10 / 24}) {
        const site::LocalDate last = site::next_day(site::next_day(first));
        const OnDates on{l, first, last};
        const ShotLight shot = shot_at(on.study, 0, 0, on.start_of(first) + Seconds{3600 * 12.2});
        MatchSettings settings;
        settings.within_deg = 25;
        for (const auto& [from, to] : {std::pair{11, 13},
                                       {12 * 60 + 30, 14 * 60},
                                       {8 * 60, 12 * 60 + 30},
                                       {12 * 60, 13 * 60}}) {
            settings.hours = {std::chrono::minutes{from}, std::chrono::minutes{to}};
            for (const DateMatch& match : light_matches(on.study, first, last, shot, settings))
                record.add("match", match);
        }
    }
    record.check();
}

TEST_CASE("matches of a sun on the horizon are those recorded", "[recorded][match]") {
    // Through a wide window to the west, at 50 north in spring: the last degree of the sun counts.
    Record record{"light_matches_low"};
    WorkedRoom worked;
    worked.faces_deg = 275;
    worked.latitude_deg = 50;
    site::Location l = worked.location();
    l.room->marks[0].height_m = 1.6;
    const site::LocalDate first = 2026_y / 3 / 20, last = 2026_y / 3 / 24;
    const OnDates on{l, first, last};
    const ShotLight shot = shot_at(on.study, 0, 0, on.start_of(first) + Seconds{3600 * 18.1});
    MatchSettings settings;
    settings.hours = {std::chrono::hours{8}, std::chrono::hours{22}};
    for (const double within_deg : {1.0, 3.0}) {
        settings.within_deg = within_deg;
        for (const DateMatch& match : light_matches(on.study, first, last, shot, settings))
            record.add("match", match);
    }
    record.check();
}

TEST_CASE("the nearest moment lies between two looks, wherever the hours begin",
          "[recorded][match]") {
    // The shot's own date: the sun comes back to where it stood, at 12:12, to the second.
    const site::Location l = wide_window();
    const site::LocalDate d = 2026_y / 3 / 28;
    const OnDates on{l, d, d};
    const Instant then = on.start_of(d) + Seconds{3600 * 12.2};
    ShotLight shot = shot_at(on.study, 0, 0, then);
    shot.coverage = 0.05;
    Record record{"light_matches_edges"};
    // Looks are 150 s apart from the beginning of the hours on, and one at their end.
    for (const int from_s : {43800, 43850, 43905, 43910, 43919, 43775, 43690})
        for (const int to_s : {43921, 43930, 43950, 44100, 50000}) {
            MatchSettings settings;
            settings.hours = {std::chrono::seconds{from_s}, std::chrono::seconds{to_s}};
            const DateMatch match = light_matches(on.study, d, d, shot, settings).front();
            REQUIRE(match.nearest);
            CHECK(std::abs((match.nearest->at - then).count()) < 4);
            CHECK_FALSE(match.out_of_hours);
            record.add("match", match);
        }
    record.check();
}

TEST_CASE("no light of a shot comes through cloth", "[match]") {
    site::Location l = example("tallow-lane.toml");
    const site::LocalDate d = 2026_y / 2 / 17;
    const OnDates open{l, d, d};
    const Instant then = open.start_of(d) + Seconds{3600 * 13.7};
    const ShotLight shot = shot_at(open.study, 0, 1, then);
    REQUIRE(light_matches(open.study, d, d, shot, {}).front().agrees());
    for (const auto cover : {room::Cover::sheer, room::Cover::blackout}) {
        l.room->windows[1].cover = cover;
        const OnDates shut{l, d, d};
        const DateMatch match = light_matches(shut.study, d, d, shot, {}).front();
        CHECK_FALSE(match.agrees());
        CHECK_FALSE(match.nearest);
        CHECK_FALSE(match.out_of_hours);
    }
}

TEST_CASE("hours from a midnight that clocks skip begin with the day", "[recorded][match]") {
    // A zone twelve hours off, whose clocks change at midnight: noon's sun shines then.
    Record record{"light_matches_midnight"};
    site::Location l = wide_window();
    l.site.zone = *site::Zone::named("AAA12BBB11,M3.5.0/0,M10.5.0/1");
    for (const site::LocalDate first : {2026_y / 3 / 28, 2026_y / 10 / 24}) {
        const site::LocalDate last = site::next_day(site::next_day(first));
        const OnDates on{l, first, last};
        ShotLight shot = shot_at(on.study, 0, 0, on.start_of(first, 1) + Seconds{600});
        shot.coverage = 0.3;
        MatchSettings settings;
        settings.within_deg = 30;
        for (const auto& [from, to] :
             {std::pair{0, 24 * 60}, {30, 24 * 60}, {0, 30}, {15, 90}, {23 * 60, 24 * 60}}) {
            settings.hours = {std::chrono::minutes{from}, std::chrono::minutes{to}};
            for (const DateMatch& match : light_matches(on.study, first, last, shot, settings))
                record.add("match", match);
        }
    }
    record.check();
}

TEST_CASE("matches of another season's light are those recorded", "[recorded][match]") {
    // The sun never stands there again: how near it comes.
    Record record{"light_matches_far"};
    const site::LocalDate first = 2026_y / 6 / 18, last = 2026_y / 6 / 20;
    const OnDates on{flax_road(), first, last};
    for (const auto& [azimuth, altitude] :
         {std::pair{20.0, 25.0}, {340.0, 40.0}, {300.0, 12.0}, {50.0, 5.0}}) {
        ShotLight shot;
        shot.toward = direction_of(azimuth, altitude);
        MatchSettings settings;
        settings.coverage = 0.4;
        settings.hours = {std::chrono::hours{11}, std::chrono::hours{13}};
        for (std::size_t mark = 0; mark < 2; ++mark)
            for (std::size_t window = 0; window < 3; ++window) {
                shot.mark = mark;
                shot.window = window;
                for (const DateMatch& match : light_matches(on.study, first, last, shot, settings))
                    record.add("match", match);
            }
    }
    record.check();
}

TEST_CASE("moments beside a shot are those recorded", "[recorded][match]") {
    Record record{"match_moments"};
    const site::LocalDate d = 2026_y / 6 / 21;
    const OnDates on{example("tallow-lane.toml"), d, d};
    for (const auto& [azimuth, altitude] : {std::pair{200.0, 25.0},
                                            {20.0, 3.0},
                                            {100.0, 60.0},
                                            {0.0, 90.0},
                                            {359.0, 10.0},
                                            {181.0, -5.0}}) {
        ShotLight shot;
        shot.window = azimuth < 50 ? 2 : 0;
        shot.toward = direction_of(azimuth, altitude);
        for (const double hour : {2.0, 5.5, 9.0, 13.0, 19.5})
            record.add("moment",
                       match_moment(on.study, shot, on.start_of(d) + Seconds{3600 * hour}));
        for (const double other : {0.0, 90.0, 199.99})
            record.add("degrees", degrees_between(shot.toward, direction_of(other, 30)));
        record.add("same", degrees_between(shot.toward, shot.toward));
        record.add("ground", over_the_ground(on.study.room(), {0.3, -0.5, shot.toward.up}));
    }
    record.check();
}

TEST_CASE("which window lights a mark is that recorded", "[recorded][match]") {
    Record record{"lighting_windows"};
    const site::LocalDate d = 2026_y / 2 / 14;
    for (const char* file : {"flax-road.toml", "sundet.toml", "tallow-lane.toml"}) {
        const OnDates on{example(file), d, d};
        for (double hour = 6.1; hour < 21; hour += 0.7) {
            const Moment m = on.study.path().at(on.start_of(d) + Seconds{3600 * hour});
            for (std::size_t mark = 0; mark < on.study.room().marks.size(); ++mark) {
                record.add("window", lighting_window(on.study, mark, m));
                std::vector<double> shares;
                for (std::size_t w = 0; w < on.study.room().windows.size(); ++w)
                    shares.push_back(sunlit_share(on.study, mark, w, m));
                record.add("shares", shares);
            }
        }
        for (const site::Lamp& lamp : on.location.lamps)
            record.add("key", can_be_key(lamp));
    }
    record.check();
}

TEST_CASE("of two windows that light a mark the one that lights more is told",
          "[recorded][match]") {
    // A mark 1.2 m wide behind a pier of 10 cm: each window lights its part, first the one more.
    Record record{"lighting_windows_two"};
    WorkedRoom worked;
    worked.faces_deg = 180;
    worked.box_m = {1.2, 0.3, 0.3};
    site::Location l = worked.location();
    l.room->marks[0].at = {3, 1};
    l.room->windows[0].left_m = 2;
    l.room->windows[0].width_m = 0.95;
    l.room->windows.push_back(l.room->windows[0]);
    l.room->windows[1].left_m = 3.05;
    const site::LocalDate d = 2026_y / 2 / 14;
    const OnDates on{l, d, d};
    int first = 0, second = 0;
    for (double hour = 9; hour < 16; hour += 0.25) {
        const Moment m = on.study.path().at(on.start_of(d) + Seconds{3600 * hour});
        const double a = sunlit_share(on.study, 0, 0, m), b = sunlit_share(on.study, 0, 1, m);
        const auto told = lighting_window(on.study, 0, m);
        if (a > 0 && b > 0) CHECK(told == (a >= b ? 0U : 1U));
        first += a > 0 && b > 0 && a > b ? 1 : 0;
        second += a > 0 && b > 0 && a < b ? 1 : 0;
        record.add("shares", std::array{a, b});
    }
    CHECK(first > 2);
    CHECK(second > 2);
    record.check();
}

TEST_CASE("the changes of light on days are those recorded", "[recorded][changes]") {
    Record record{"light_changes"};
    for (const char* file : {"flax-road.toml", "sundet.toml", "tallow-lane.toml"})
        for (const site::LocalDate d : {2026_y / 3 / 29, 2026_y / 12 / 21}) {
            const OnDates on{example(file), d, d};
            const DayStrip strip = day_strip(on.location, &on.study, on.study.path().shared(), d);
            record.add("changes", light_changes(on.study, strip));
        }
    record.check();
}

TEST_CASE("the changes of light in random rooms are those recorded", "[recorded][changes]") {
    Record record{"light_changes_random"};
    const site::LocalDate d = 2026_y / 4 / 20;
    for (const std::uint64_t seed : {2U, 3U, 4U, 6U, 7U, 9U, 10U, 12U, 13U, 14U}) {
        test::Dice dice{seed};
        site::Location l = test::random_location(dice);
        l.site.observer.latitude = Angle::degrees(dice.between(-50, 50));
        l.room->bearing.within = Angle::degrees(seed % 2 == 0 ? 0 : 12);
        // Two cameras of one mark give its key twice; two marks at one place have their own.
        const auto marks = l.room->marks;
        l.room->marks.insert(l.room->marks.end(), marks.begin(), marks.end());
        const auto cameras = l.room->cameras;
        for (room::Camera c : cameras) {
            c.height_m += 0.1;
            l.room->cameras.push_back(c);
        }
        const OnDates on{l, d, d};
        const DayStrip strip = day_strip(on.location, &on.study, on.study.path().shared(), d);
        record.add("changes", light_changes(on.study, strip));
    }
    record.check();
}
