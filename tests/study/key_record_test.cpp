// The keys of five rooms, whole.

#include <catch2/catch.hpp>

#include "flax_road.hpp"
#include "keyhour/study/best_key.hpp"
#include "keyhour/study/key_light.hpp"
#include "support/recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

TEST_CASE("keys are those recorded", "[recorded][clean_key]") {
    test::Record record{"study/recorded/keys"};
    for (const site::LocalDate d :
         {2026_y / 3 / 20, 2026_y / 6 / 21, 2026_y / 10 / 25, 2026_y / 12 / 21}) {
        const OnDates on{flax_road(), d, d};
        const RoomLight light{on.study};
        auto keys = clean_key(on.study, on.start_of(d), on.start_of(d, 1));
        for (KeyInterval& key : keys) {
            describe(on.study, {}, key);
            record.add("key", key);
            if (key.span) record.add("light", key_light(on.study, light, key));
        }
        for (const NearestMiss& miss :
             nearest_misses(on.study, on.start_of(d), on.start_of(d, 1), {}, keys))
            record.add("miss", miss);
    }
    record.check();
}
