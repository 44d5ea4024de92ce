// Every state of the clock that is tried over recces thrown at random, whole.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "keyhour/study/clock_shift.hpp"
#include "recorded.hpp"
#include "thrown_recce.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

ClockVerdict tried(const Recce& recce, const std::vector<Observation>& seen,
                   double clock_within_s = usual_clock_within_s) {
    return try_clock(recce.location, *recce.path, seen, clock_within_s);
}

/// By the first letter of each kind; p: the patch's corner.
std::vector<Observation> those(const std::vector<Observation>& seen, const std::string& kinds) {
    std::vector<Observation> out;
    for (const Observation& o : seen)
        if (kinds.find(o.name == "corner" ? 'p' : o.name[0]) != std::string::npos) out.push_back(o);
    return out;
}

}  // namespace

TEST_CASE("verdicts on clocks of common errors are those recorded", "[recorded][clock_shift]") {
    Record record{"clock_common"};
    const double fast[] = {0, 3600, -3600, 1800, -1800, 43200, -43200, 900};
    for (std::uint64_t i = 0; i < 16; ++i) {
        const Recce recce{4100 + i};
        record.add(fmt::format("verdict-{}", i), tried(recce, recce.noted(fast[i % 8])));
    }
    record.check();
}

TEST_CASE("verdicts on clocks of uncommon errors are those recorded", "[recorded][clock_shift]") {
    Record record{"clock_uncommon"};
    const double fast[] = {4500, -5400, 2460, -900, 7000};
    for (std::uint64_t i = 0; i < 10; ++i) {
        const Recce recce{4200 + i};
        record.add(fmt::format("verdict-{}", i), tried(recce, recce.noted(fast[i % 5])));
    }
    // Farther than anybody looks.
    for (std::uint64_t i = 0; i < 6; ++i) {
        const Recce recce{4210 + i};
        record.add("far", tried(recce, recce.noted(i % 2 == 0 ? 11700 : -12900)));
    }
    record.check();
}

TEST_CASE("verdicts on few observations are those recorded", "[recorded][clock_shift]") {
    Record record{"clock_few"};
    const char* kinds[] = {"c", "cm", "g", "p", "s", "gs", "cp", "cs", "msp", ""};
    for (std::uint64_t i = 0; i < 30; ++i) {
        const Recce recce{4300 + i};
        const auto seen = those(recce.noted(i % 3 == 0   ? 0
                                            : i % 3 == 1 ? 3600
                                                         : -43200),
                                kinds[i % 10]);
        record.add(fmt::format("verdict-{}", kinds[i % 10]), tried(recce, seen));
    }
    record.check();
}

TEST_CASE("verdicts by zones and by what is known of the clock are those recorded",
          "[recorded][clock_shift]") {
    Record record{"clock_zones"};
    Recce recce{4407};
    for (const char* name :
         {"UTC0", "<+0140>-1:40", "<+0009>-0:09", "<+0011>-0:11", "STD3:30",
          "<+1030>-10:30<+11>-11,M10.1.0,M4.1.0", "STD-2DST-3,M3.5.0,M10.5.0/3"}) {
        const auto zone = site::Zone::named(name);
        REQUIRE(zone);
        recce.location.site.zone = *zone;
        record.add(name, tried(recce, recce.noted(1800)));
    }
    for (const double within : {0.0, 30.0, 599.0, 601.0, 1800.0, 1801.0, 3600.0, 3601.0, 50000.0})
        record.add(fmt::format("within-{}", within), tried(recce, recce.noted(3600), within));
    // A map of two places on one spot can't be; a shadow by night can at another time.
    auto seen = recce.noted(0);
    auto& map = std::get<MapLine>(seen[1].what);
    map.right = map.left;
    record.add("impossible", tried(recce, seen));
    record.add("by-night", tried(recce, with_clock_fast(recce.noted(0), -32400)));
    record.add("never", tried(recce, those(with_clock_fast(recce.noted(0), -86400 * 0.4), "gs")));
    record.check();
}

TEST_CASE("verdicts on a clock by which the sun had set are those recorded",
          "[recorded][clock_shift]") {
    Record record{"clock_dusk"};
    for (std::uint64_t i = 0; i < 12; ++i) {
        const Recce recce{4600 + i};
        // As fast or as slow as it takes, by shifts that are nobody's habit.
        for (const double step : {420.0, -420.0}) {
            const auto seen = those(recce.seen, "cmsp");
            double fast = 0;
            const auto is_down = [&](const Observation& o) {
                const auto time = time_of(o);
                return time && recce.path->at(time->at + Seconds{fast}).altitude_deg < 0;
            };
            while (std::abs(fast) < 10000 && !std::ranges::any_of(seen, is_down))
                fast += step;
            record.add(fmt::format("fast-{}", fast), tried(recce, with_clock_fast(seen, -fast)));
        }
    }
    record.check();
}

TEST_CASE("a time put right and a clock in words are those recorded", "[recorded][clock_shift]") {
    Record record{"clock_words"};
    for (const double s : {0.0, 29.0, -29.9, 30.1, -31.0, 60.0, 3569.0, 3571.0, 3600.0, -3630.0,
                           -3660.0, 5400.0, -7199.0, 7200.0, 43199.0, -86400.0, 90061.0})
        record.add("words", clock_in_words(s));
    const Recce recce{4501};
    for (const Observation& o : with_clock_fast(recce.seen, -600))
        record.add(o.name, time_of(o));
    record.check();
}
