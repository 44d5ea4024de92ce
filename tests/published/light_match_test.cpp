// The minutes at which a shot's light comes again, with the sun by ERFA (erfa_sun.hpp) and the
// clocks by zdump (tzcode's own printer of the zone database, as the system has it).
//
// Refraction lifts ERFA's airless places by G. G. Bennett's formula (Journal of Navigation 35,
// 1982, p. 255; from memory): R = cot(h + 7.31 / (h + 4.4)) arcminutes at an apparent altitude of h
// degrees; the project has Saemundsson's, which goes the other way and agrees to 0.1 arcminutes.

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <map>
#include <memory>
#include <numbers>
#include <sstream>

#include "erfa_sun.hpp"
#include "keyhour/ask/match.hpp"
#include "keyhour/site/dates.hpp"
#include "read/location_file.hpp"
#include "words/clock.hpp"

using namespace keyhour;
using namespace date::literals;

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

/// A change of clocks as zdump lists it: the instant, and the offsets before and from it.
struct Listed {
    Instant at;
    int before_s = 0, after_s = 0;
};

/// "Europe/London  Sun Mar 29 01:00:00 2026 UT = Sun Mar 29 02:00:00 2026 BST isdst=1 gmtoff=3600"
std::vector<Listed> zdump(const std::string& zone) {
    const std::string command = "zdump -v -c 2026,2033 " + zone;
    const std::unique_ptr<FILE, int (*)(FILE*)> pipe{::popen(command.c_str(), "r"), ::pclose};
    REQUIRE(pipe);
    std::vector<Listed> out;
    std::array<char, 512> buffer{};
    int before = 0;
    while (std::fgets(buffer.data(), buffer.size(), pipe.get())) {
        std::istringstream words{buffer.data()};
        std::string name, day, month, date, time, year, rest;
        words >> name >> day >> month >> date >> time >> year;
        const std::string line = buffer.data();
        const auto offset = line.find("gmtoff=");
        if (year.size() != 4 || offset == std::string::npos) continue;
        constexpr std::string_view months = "JanFebMarAprMayJunJulAugSepOctNovDec";
        const auto m = static_cast<unsigned>(months.find(month) / 3 + 1);
        const date::sys_days on{date::year{std::stoi(year)} / date::month{m} /
                                date::day{static_cast<unsigned>(std::stoul(date))}};
        const auto seconds = on.time_since_epoch() +
                             std::chrono::hours{std::stoi(time.substr(0, 2))} +
                             std::chrono::minutes{std::stoi(time.substr(3, 2))} +
                             std::chrono::seconds{std::stoi(time.substr(6, 2))};
        const Instant at =
            Instant::from_unix_s(static_cast<double>(std::chrono::seconds{seconds}.count()));
        const int now = std::stoi(line.substr(offset + 7));
        // Two lines a change: its last second, and the instant itself.
        if (time.ends_with(":59"))
            before = now;
        else
            out.push_back({at, before, now});
    }
    return out;
}

/// The clock reading at an instant by an offset, without any zone.
std::string by_offset(Instant t, int offset_s) {
    const auto local = static_cast<long long>(std::floor(t.unix_s())) + offset_s;
    const long long minute = ((local % 86400) + 86400) % 86400 / 60;
    char text[8];
    std::snprintf(text, sizeof text, "%02lld:%02lld", minute / 60, minute % 60);
    return text;
}

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
    // Both hemispheres, a change of half an hour, changes by the moon, and at midnight.
    constexpr std::array zones{"Europe/London",       "Europe/Oslo",      "America/New_York",
                               "America/St_Johns",    "America/Santiago", "Australia/Adelaide",
                               "Australia/Lord_Howe", "Pacific/Auckland", "Africa/Casablanca",
                               "Asia/Beirut"};
    std::size_t changes = 0, matches = 0;
    for (const char* name : zones) {
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
