// The day's key of the C header against the whole library's, in rooms thrown at random: it is found
// minute by minute there, not from regions.

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "in_c.hpp"
#include "keyhour/study/clean_key.hpp"
#include "support/random_location.hpp"

using namespace keyhour;
using namespace keyhour::test;

TEST_CASE("a small room's keys of a day are those of the whole library", "[c]") {
    Dice dice{1603};
    int compared = 0;
    for (int n = 0; n < 100; ++n) {
        const site::Location location = random_location(dice);
        const study::KeySettings settings = random_settings(dice);
        const Instant from = Instant::from_unix_s(1767225600 + 86400.0 * dice.whole(0, 364));
        const Instant to = from + Seconds{86400};
        const study::RoomStudy study{
            location, study::SharedTrack::make(from - Seconds{7200}, to + Seconds{86400})};
        const auto wanted = study::clean_key(study, from, to, settings);

        const InC small{*location.room};
        std::vector<keyhour_skyline_point> skyline;
        for (const site::HorizonPoint& p : location.site.horizon.points())
            skyline.push_back({p.bearing.in_degrees(), p.altitude.in_degrees()});
        const Observer& o = location.site.observer;
        const keyhour_observer observer =
            keyhour_observer_at(o.latitude.in_degrees(), o.longitude.in_degrees(), o.elevation_m);
        const keyhour_key_settings asked{settings.coverage,
                                         {settings.key_angle_deg[0], settings.key_angle_deg[1]},
                                         {settings.altitude_deg[0], settings.altitude_deg[1]},
                                         settings.shortest.count(),
                                         skyline.data(),
                                         skyline.size()};
        std::array<keyhour_key, 64> found;
        std::size_t count = 0;
        REQUIRE(keyhour_keys(small.scene(), &observer, &asked, from.unix_s(), to.unix_s(),
                             found.data(), found.size(), &count) == KEYHOUR_OK);
        const auto has = [&](const study::KeyInterval& k) {
            return std::any_of(
                found.begin(), found.begin() + static_cast<std::ptrdiff_t>(count),
                [&](const keyhour_key& f) {
                    return f.mark == k.mark && f.window == k.window &&
                           f.camera == k.camera.value_or(KEYHOUR_NONE) &&
                           std::abs(f.from_unix_s - k.span->from.unix_s()) < 0.2 &&
                           std::abs(f.to_unix_s - std::min(k.span->to, to).unix_s()) < 0.2;
                });
        };
        for (const study::KeyInterval& k : wanted) {
            // The lengths at which both may differ by what ends are known to.
            if (!k.span || k.span->length() < settings.shortest + Seconds{120}) continue;
            INFO("location " << n << " from " << k.span->from.unix_s() << " for "
                             << k.span->length().count() << " s");
            CHECK(has(k));
            ++compared;
        }
    }
    CHECK(compared > 20);
}
