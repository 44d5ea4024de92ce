#include "keyhour/study/light_match.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "flax_road.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/study/mark_light.hpp"
#include "keyhour/study/patch_day.hpp"
#include "keyhour/study/seasonal_study.hpp"
#include "read/location_file.hpp"
#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

using namespace date::literals;

constexpr Seconds minute{60};

struct Place {
    site::Location location;
    std::shared_ptr<const SharedTrack> track;
    RoomStudy study;
    explicit Place(const std::string& name)
        : location{*read::read_location(KEYHOUR_LOCATIONS "/" + name)},
          track{SharedTrack::make(at(2026_y / 1 / 1, 0), at(2027_y / 1 / 4, 0))},
          study{location, track} {}
    [[nodiscard]] Instant at(site::LocalDate day, int minutes) const {
        return location.site.zone.start_of(day) + minutes * minute;
    }
    [[nodiscard]] ShotLight shot(std::size_t mark, std::size_t window, Instant t) const {
        ShotLight out;
        out.mark = mark;
        out.window = window;
        const Moment m = study.path().at(t);
        out.toward = m.toward;
        out.coverage = sunlit_share(study, mark, window, m);
        return out;
    }
};

/// Direct sun through the window covers the mark, by the scene alone.
bool covers(const RoomStudy& study, const ShotLight& shot, const Moment& m) {
    return m.altitude_deg > 0 && m.above_skyline_deg > 0 &&
           study.scene().coverage(shot.mark, shot.window, study.sun(m)) >= 0.95;
}

double off(const ShotLight& shot, const Moment& m) {
    const double cosine = m.toward.east * shot.toward.east + m.toward.north * shot.toward.north +
                          m.toward.up * shot.toward.up;
    return std::acos(std::min(1.0, cosine)) * 180 / 3.14159265358979;
}

}  // namespace

TEST_CASE("matches are those that a walk by the minute finds", "[match]") {
    struct Asked {
        const char* place;
        std::size_t mark, window;
        site::LocalDate day;
        int minutes;
        double within_deg;
    };
    for (const Asked& asked : {Asked{"tallow-lane.toml", 0, 1, 2026_y / 2 / 17, 822, 2},
                               {"tallow-lane.toml", 0, 1, 2026_y / 2 / 20, 835, 6},
                               {"bindery-and-wharf/bindery.toml", 0, 1, 2026_y / 3 / 10, 960, 3}}) {
        INFO(asked.place << " " << asked.day);
        const Place place{asked.place};
        const ShotLight shot =
            place.shot(asked.mark, asked.window, place.at(asked.day, asked.minutes));
        REQUIRE(shot.coverage > 0.9);
        MatchSettings settings;
        settings.within_deg = asked.within_deg;
        const site::LocalDate first = asked.day;
        const site::LocalDate last{date::sys_days{first} + date::days{70}};
        std::size_t agreeing = 0, others = 0;
        for (const DateMatch& match : light_matches(place.study, first, last, shot, settings)) {
            double least = 361;
            for (int i = 0; i < 1440; ++i) {
                const Moment m = place.study.path().at(place.at(match.date, i));
                const auto local = place.location.site.zone.at(m.at).local;
                const auto time = local - date::floor<date::days>(local);
                const bool at_work = time >= std::chrono::hours{8} && time < std::chrono::hours{20};
                if (!covers(place.study, shot, m) || !at_work) continue;
                const double here = off(shot, m);
                least = std::min(least, here);
                bool inside = false, near_an_end = false;
                for (const Span& s : match.spans) {
                    inside = inside || (s.from <= m.at && m.at <= s.to);
                    near_an_end = near_an_end || std::abs((m.at - s.from).count()) < 1 ||
                                  std::abs((m.at - s.to).count()) < 1;
                }
                if (!near_an_end) CHECK(inside == (here <= settings.within_deg));
            }
            (match.agrees() ? agreeing : others)++;
            if (least > 360) {
                CHECK((!match.nearest || match.agrees() || match.nearest->off_deg > 0));
                continue;
            }
            REQUIRE(match.nearest);
            CHECK(match.nearest->off_deg <= least + 0.01);  // found to 4 s
            CHECK(match.nearest->off_deg > least - 0.26);   // the sun's way in a minute
            CHECK(match.agrees() == (match.nearest->off_deg <= settings.within_deg));
        }
        CHECK(agreeing > 3);
        CHECK(others > 3);
    }
}

TEST_CASE("the shot's own minute matches itself, without any difference", "[match]") {
    const Place place{"tallow-lane.toml"};
    const Instant t = place.at(2026_y / 2 / 17, 822);
    const ShotLight shot = place.shot(0, 1, t);
    const auto match = light_matches(place.study, 2026_y / 2 / 17, 2026_y / 2 / 17, shot, {});
    REQUIRE(match.size() == 1);
    REQUIRE(match[0].nearest);
    CHECK(std::abs((match[0].nearest->at - t).count()) < 5);
    CHECK(match[0].nearest->off_deg < 0.02);
    CHECK(match[0].nearest->shift_m < 0.002);
}

TEST_CASE("the patch moves at the mark by what the ray through the window's middle says",
          "[match]") {
    const Place place{"tallow-lane.toml"};
    const Instant then = place.at(2026_y / 2 / 17, 822), now = place.at(2026_y / 2 / 20, 830);
    const ShotLight shot = place.shot(0, 1, then);
    const MatchMoment m = match_moment(place.study, shot, now);
    // By another way: both rays in plan axes, down to the plane through the mark.
    const room::Point3 s = place.study.sun(place.study.path().at(then)),
                       r = place.study.sun(place.study.path().at(now));
    const room::Point3 w = place.study.scene().middle(1), mark{2.3, 1.8, 1.25};
    const auto landing = [&](room::Point3 ray) {
        const double t = ((w.x - mark.x) * s.x + (w.y - mark.y) * s.y + (w.z - mark.z) * s.z) /
                         (ray.x * s.x + ray.y * s.y + ray.z * s.z);
        return room::Point3{w.x - t * ray.x, w.y - t * ray.y, w.z - t * ray.z};
    };
    const room::Point3 a = landing(s), b = landing(r);
    CHECK(m.shift_m == Approx(std::hypot(b.x - a.x, b.y - a.y, b.z - a.z)));
    CHECK(m.shift_m == Approx(std::hypot(m.shift_right_m, m.shift_up_m)));
    // A sun further to the right throws the patch to the left; a higher one throws it down.
    CHECK((m.azimuth_off_deg > 0) == (m.shift_right_m < 0));
    CHECK((m.altitude_off_deg > 0) == (m.shift_up_m < 0));
}

TEST_CASE("light outside of working hours is told apart from a match", "[match]") {
    const Place place{"tallow-lane.toml"};
    const ShotLight shot = place.shot(0, 1, place.at(2026_y / 2 / 17, 822));
    MatchSettings settings;
    settings.hours = {std::chrono::hours{8}, std::chrono::hours{11}};
    const auto match = light_matches(place.study, 2026_y / 2 / 18, 2026_y / 2 / 18, shot, settings);
    CHECK_FALSE(match[0].agrees());
    CHECK_FALSE(match[0].nearest);
    REQUIRE(match[0].out_of_hours);
    CHECK(match[0].out_of_hours->off_deg < 1);
}

TEST_CASE("a sun further right and lower than the shot's key is told so by the degree", "[match]") {
    const WorkedRoom worked;
    const OnDates room{worked.location(), 2026_y / 3 / 10, 2026_y / 3 / 10};
    const Instant t = room.start_of(room.first) + Seconds{15.3 * 3600};
    const LevelVector sun = room.study.path().at(t).toward;
    const double azimuth = std::atan2(sun.east, sun.north), altitude = std::asin(sun.up);
    const Angle five = Angle::degrees(5), two = Angle::degrees(2);
    const double a = azimuth - five.in_radians(), h = altitude + two.in_radians();
    ShotLight shot;
    shot.toward = {std::cos(h) * std::sin(a), std::cos(h) * std::cos(a), std::sin(h)};
    const MatchMoment m = match_moment(room.study, shot, t);
    CHECK(m.azimuth_off_deg == Approx(5));
    CHECK(m.altitude_off_deg == Approx(-2));
    // Spherical law of cosines.
    const double cosine = std::sin(h) * std::sin(altitude) +
                          std::cos(h) * std::cos(altitude) * std::cos(five.in_radians());
    CHECK(m.off_deg == Approx(std::acos(cosine) * 180 / 3.14159265358979));
}

TEST_CASE("no share of a mark is lit below the skyline or past cloth", "[match]") {
    const site::LocalDate day = 2026_y / 3 / 10;
    const auto share = [&](const site::Location& l) {
        const OnDates room{l, day, day};
        const Moment lit =
            room.study.path().at(room.start_of(day) + Seconds{(15 * 60 + 22) * 60.0});
        const double told = sunlit_share(room.study, 0, 0, lit);
        const PatchInstant patches = patches_at(room.study, lit.at);
        CHECK(patches.patches.empty() == (told == 0));
        CHECK(patches.coverages.empty() == (told == 0));
        if (lit.above_skyline_deg <= 0) CHECK(direct_lx(room.study, 0, lit) == 0);
        if (told > 0) CHECK(direct_lx(room.study, 0, lit) > 10000);
        return told;
    };
    WorkedRoom worked;
    worked.radius_m = 1e-3;  // lit from 15:03 to 15:42
    site::Location l = worked.location();
    CHECK(share(l) == Approx(1));
    site::Location valley = l, dark = l;
    valley.site.horizon = site::Horizon{
        {{Angle::degrees(0), Angle::degrees(45)}, {Angle::degrees(180), Angle::degrees(45)}}};
    CHECK(share(valley) == 0);
    dark.room->windows[0].cover = room::Cover::blackout;
    CHECK(share(dark) == 0);
}

TEST_CASE("a lamp can stand in for the sun where it stands outside and can be aimed", "[match]") {
    site::Lamp lamp;
    lamp.photometry = light::DataSheet{};
    lamp.place = site::Lamp::Place::outside;
    CHECK(can_be_key(lamp));
    lamp.place = site::Lamp::Place::inside;
    CHECK_FALSE(can_be_key(lamp));
    lamp.place = site::Lamp::Place::outside;
    lamp.photometry = site::Lumens{};
    CHECK_FALSE(can_be_key(lamp));
}

TEST_CASE("a shot that had part of its mark lit is matched by that part, and by no less",
          "[match]") {
    const site::LocalDate day = 2026_y / 3 / 10;
    const OnDates room{WorkedRoom{}.location(), day, day};
    MatchSettings settings;
    settings.within_deg = 30;
    ShotLight shot;
    shot.toward = room.study.path().at(room.start_of(day) + Seconds{15.4 * 3600}).toward;
    const auto minutes = [&](double coverage) {
        shot.coverage = coverage;
        double sum = 0;
        const auto matches = light_matches(room.study, day, day, shot, settings);
        for (const Span& s : matches[0].spans)
            sum += s.length().count() / 60;
        return sum;
    };
    // By the minute, from the scene alone.
    const auto walked = [&](double coverage) {
        double sum = 0;
        for (int i = 0; i < 1440; ++i) {
            const Moment m = room.study.path().at(room.start_of(day) + i * minute);
            sum += m.altitude_deg > 0 && off(shot, m) <= 30 &&
                           room.study.scene().coverage(0, 0, room.study.sun(m)) >= coverage
                       ? 1
                       : 0;
        }
        return sum;
    };
    CHECK(minutes(1) == Approx(walked(0.95)).margin(1.5));
    CHECK(minutes(0.5) == Approx(walked(0.5)).margin(1.5));
    CHECK(walked(0.5) > walked(0.95) + 10);
    CHECK(minutes(0) == minutes(1));  // nothing known of it: the whole
}

TEST_CASE("of two visits on a date the nearer one's moment is told, be it the first or the last",
          "[match]") {
    // A bar in the window's middle parts the hold.
    const site::LocalDate day = 2026_y / 2 / 15;
    WorkedRoom worked;
    worked.radius_m = 1e-3;
    site::Location l = worked.location();
    l.room->windows[0].bars.upright = 1;
    l.room->windows[0].bars.width_m = 0.3;
    const OnDates room{l, day, day};
    std::vector<Instant> lit;
    for (int i = 0; i < 1440; ++i) {
        const Moment m = room.study.path().at(room.start_of(day) + i * minute);
        if (m.altitude_deg > 0 && room.study.scene().coverage(0, 0, room.study.sun(m)) > 0.5)
            lit.push_back(m.at);
    }
    REQUIRE(lit.size() > 10);
    REQUIRE((lit.back() - lit.front()) / minute > static_cast<double>(lit.size()) + 3);
    for (const Instant wanted : {lit[2], lit[lit.size() - 3]}) {
        ShotLight shot;
        shot.toward = room.study.path().at(wanted).toward;
        const auto match = light_matches(room.study, day, day, shot, {});
        REQUIRE(match[0].nearest);
        CHECK(match[0].nearest->off_deg == Approx(0).margin(0.01));
        CHECK(std::fabs((match[0].nearest->at - wanted).count()) < 5);
    }
}
