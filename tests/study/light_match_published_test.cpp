// The minutes at which a shot's light comes again, with the sun by ERFA (erfa_sun.hpp) and the
// clocks by zdump (tzcode's own printer of the zone database, as the system has it).
//
// Refraction lifts ERFA's airless places by G. G. Bennett's formula (Journal of Navigation 35,
// 1982, p. 255; from memory): R = cot(h + 7.31 / (h + 4.4)) arcminutes at an apparent altitude of h
// degrees; the project has Saemundsson's, which goes the other way and agrees to 0.1 arcminutes.

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <numbers>

#include "keyhour/ask/match.hpp"
#include "keyhour/site/dates.hpp"
#include "published/erfa_sun.hpp"
#include "published/zone_dump.hpp"
#include "read/location_file.hpp"
#include "words/clock.hpp"

using namespace keyhour;
using namespace date::literals;
using zone_dump::by_offset, zone_dump::Listed, zone_dump::ten_zones, zone_dump::zdump;

namespace {

constexpr double degree = std::numbers::pi / 180;

using Unit = std::array<double, 3>;

Unit lifted(const Unit& airless) {
    const double h = std::asin(airless[2]) / degree;
    double apparent = h;
    for (int i = 0; i < 8; ++i)
        apparent = h + 1 / std::tan((apparent + 7.31 / (apparent + 4.4)) * degree) / 60;
    const double level = std::cos(apparent * degree) / std::hypot(airless[0], airless[1]);
    return {airless[0] * level, airless[1] * level, std::sin(apparent * degree)};
}

double erfa_angle_deg(Instant a, Instant b, const Observer& observer) {
    const auto sun = [&](Instant t) {
        return lifted(erfa_sun::sight(t, erfa_sun::delta_t_s(t), observer).direction);
    };
    const Unit p = sun(a), q = sun(b);
    const double apart = std::hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
    return 2 * std::asin(apart / 2) / degree;
}

site::Location place(const char* name) {
    return *read::read_location(std::string{KEYHOUR_LOCATIONS "/"} + name);
}

struct Shot {
    const char* file;
    std::size_t window;
    double hour_utc;
};

}  // namespace

TEST_CASE("a matched minute has the sun where ERFA has it too", "[match][published]") {
    std::size_t agreeing = 0, ends = 0;
    for (const Shot& s :
         {Shot{"tallow-lane.toml", 1, 13.7}, {"bindery-and-wharf/bindery.toml", 1, 15.5}}) {
        const site::Location location = place(s.file);
        ask::MatchRequest request;
        request.window = s.window;
        request.shot_at = location.site.zone.start_of(2026_y / 2 / 17) + Seconds{3600 * s.hour_utc};
        const auto found =
            ask::match(location, {2026_y / 1 / 1, 2026_y / 12 / 31, true, false}, {}, request);
        REQUIRE(found);
        REQUIRE(found->dates.size() == 365);
        for (const ask::MatchedDate& date : found->dates) {
            const auto erfa = [&](Instant t) {
                return erfa_angle_deg(request.shot_at, t, location.site.observer);
            };
            if (date.match.nearest) {
                CHECK(std::abs(erfa(date.match.nearest->at) - date.match.nearest->off_deg) < 0.01);
                // No minute of the spans comes nearer by ERFA.
                for (const study::Span& span : date.match.spans)
                    for (Instant t = span.from; t < span.to; t = t + Seconds{60})
                        CHECK(erfa(t) > date.match.nearest->off_deg - 0.01);
            }
            agreeing += date.match.agrees() ? 1 : 0;
            for (const study::Span& span : date.match.spans)
                for (const Instant end : {span.from, span.to}) {
                    CHECK(erfa(end) < 2.01);
                    if (erfa(end) > 1.99) ++ends;
                }
        }
    }
    CHECK(agreeing > 10);
    CHECK(ends > 10);  // most spans end where the angle does
}

TEST_CASE("minutes across every change of ten zones' clocks are those of the zone database",
          "[match][published]") {
    std::size_t changes = 0, matches = 0;
    for (const char* name : ten_zones) {
        INFO(name);
        const auto listed = zdump(name);
        if (listed.empty()) {
            WARN("zdump is not here: " << name << " is not checked");
            continue;
        }
        site::Location location = place("tallow-lane.toml");
        location.site.zone = *site::Zone::named(name);
        // Somewhere on the zone's own hours, so that the light comes while people work.
        for (const Listed& change : listed) {
            ++changes;
            INFO(site::iso_utc(change.at));
            const site::Zone& zone = location.site.zone;
            CHECK(zone.at(change.at - Seconds{1}).utc_offset.count() == change.before_s);
            CHECK(zone.at(change.at).utc_offset.count() == change.after_s);
            // A shot on the day before, matched on the three days after, wherever the sun is then.
            location.site.observer.longitude = Angle::degrees(change.before_s / 240.0);
            ask::MatchRequest request;
            request.window = 1;
            const site::LocalDate day = site::local_date(change.at - Seconds{86400}, zone);
            for (int minutes = 600; minutes < 900; minutes += 15) {
                request.shot_at = zone.start_of(day) + Seconds{60.0 * minutes};
                const study::RoomStudy study{
                    location,
                    study::SharedTrack::make(request.shot_at, request.shot_at + Seconds{86400})};
                if (study::sunlit_share(study, 0, 1, study.path().at(request.shot_at)) >= 0.99)
                    break;
                request.shot_at = {};
            }
            if (request.shot_at == Instant{}) continue;
            request.settings.hours = {std::chrono::hours{0}, std::chrono::hours{24}};
            const site::LocalDate last{date::sys_days{day} + date::days{4}};
            const auto found = ask::match(location, {day, last, true, false}, {}, request);
            REQUIRE(found);
            for (const ask::MatchedDate& date : found->dates) {
                if (!date.match.nearest || !date.match.agrees()) continue;
                const Instant at = words::nearest_minute(date.match.nearest->at);
                const int offset = at < change.at ? change.before_s : change.after_s;
                CHECK(words::minute_down(at, zone) == by_offset(at, offset));
                ++matches;
            }
        }
    }
    CHECK((changes == 0 || changes > 100));
    CHECK((changes == 0 || matches > 150));
}
