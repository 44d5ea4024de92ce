#include "keyhour/study/timetable.hpp"

#include <catch2/catch.hpp>

using keyhour::Instant;
using keyhour::Seconds;
namespace study = keyhour::study;

namespace {

const keyhour::site::Rigging rigging{
    {}, {}, 0.15, {{"cloth", {{1, 40}, {2, 25}}}, {"stand", {{2, 15}, {4, 10}}}}};
const Instant noon = Instant::from_unix_s(43200);

}  // namespace

TEST_CASE("tasks are counted back without gaps, the last ending when all must stand", "[study]") {
    const auto t = study::count_back(rigging, 2, noon);
    REQUIRE(t.tasks.size() == 2);
    CHECK(t.tasks[1].to == noon);
    CHECK(t.tasks[1].from == noon - Seconds{15 * 60});
    CHECK(t.tasks[0].to == t.tasks[1].from);
    CHECK(t.start == noon - Seconds{40 * 60});
    CHECK(t.tasks[0].from == t.start);
    CHECK_FALSE(t.needs_more);
}

TEST_CASE("a crew takes the minutes of the largest size not above it", "[study]") {
    CHECK(study::count_back(rigging, 3, noon).start == noon - Seconds{40 * 60});
    CHECK(study::count_back(rigging, 9, noon).start == noon - Seconds{35 * 60});
}

TEST_CASE("a crew too small for a task has no timetable and is told which", "[study]") {
    const auto t = study::count_back(rigging, 1, noon);
    CHECK(t.needs_more == std::size_t{1});
    CHECK(t.tasks.empty());
    CHECK(t.start == noon);
}

TEST_CASE("crew sizes are those of the tasks and the one asked for", "[study]") {
    CHECK(study::crew_sizes(rigging) == std::vector<int>{1, 2, 4});
    auto asked = rigging;
    asked.crew = 3;
    CHECK(study::crew_sizes(asked) == std::vector<int>{1, 2, 3, 4});
}
