#include "keyhour/study/together.hpp"

#include <catch2/catch.hpp>

using namespace keyhour;
using namespace keyhour::study;

namespace {

Instant at(double minutes) {
    return Instant::from_unix(Seconds{1770000000 + 60 * minutes});
}

KeyInterval key(std::size_t mark, double from, double to, double sure_from = 0,
                double sure_to = 0) {
    KeyInterval k;
    k.mark = mark;
    k.span = Span{at(from), at(to)};
    if (sure_to > sure_from) k.sure = Span{at(sure_from), at(sure_to)};
    return k;
}

bool is(const Span& s, double from, double to) {
    return s.from == at(from) && s.to == at(to);
}

}  // namespace

TEST_CASE("keys of two marks hold at once where they overlap, and surely where their sure parts do",
          "[together]") {
    const auto both = keys_together({key(0, 0, 60, 10, 50), key(1, 30, 90, 40, 80)});
    REQUIRE(both.size() == 1);
    CHECK(both[0].marks == std::vector<std::size_t>{0, 1});
    CHECK(is(both[0].span, 30, 60));
    REQUIRE(both[0].sure.has_value());
    CHECK(is(*both[0].sure, 40, 50));
    // One beside the other, or apart by less than a minute's overlap: nothing.
    CHECK(keys_together({key(0, 0, 60), key(1, 60, 90)}).empty());
    CHECK(keys_together({key(0, 0, 60), key(1, 59.5, 90)}).empty());
    CHECK(keys_together({key(0, 0, 60)}).empty());
    CHECK(keys_together({}).empty());
}

TEST_CASE("a mark's keys through two windows are one light while they follow each other",
          "[together]") {
    // Mark 0 first through one window, then another; mark 1 all the while.
    const auto both = keys_together({key(0, 0, 40), key(0, 30, 70), key(1, 10, 65)});
    REQUIRE(both.size() == 1);
    CHECK(is(both[0].span, 10, 65));
    CHECK_FALSE(both[0].sure.has_value());
}

TEST_CASE("of three marks all three come first, then the pairs, for as long as each holds",
          "[together]") {
    const auto sets = keys_together({key(0, 0, 100), key(1, 20, 80), key(2, 50, 120)});
    REQUIRE(sets.size() == 3);
    CHECK(sets[0].marks == std::vector<std::size_t>{0, 1, 2});
    CHECK(is(sets[0].span, 50, 80));
    CHECK(sets[1].marks == std::vector<std::size_t>{0, 1});
    CHECK(is(sets[1].span, 20, 80));
    CHECK(sets[2].marks == std::vector<std::size_t>{0, 2});
    CHECK(is(sets[2].span, 50, 100));
    // What exists at some bearings only holds nothing together.
    KeyInterval possible = key(1, 20, 80);
    possible.span.reset();
    CHECK(keys_together({key(0, 0, 100), possible}).empty());
}

TEST_CASE("of several sure parts of one run the longest is told", "[together]") {
    // Mark 0 by two keys that follow each other, sure for 25 minutes and for 10.
    const auto both =
        keys_together({key(0, 0, 40, 5, 30), key(0, 40, 100, 50, 95), key(1, 0, 100, 0.5, 60)});
    REQUIRE(both.size() == 1);
    CHECK(is(both[0].span, 0, 100));
    REQUIRE(both[0].sure);
    CHECK(is(*both[0].sure, 5, 30));
    // And where the later one is the longer.
    const auto later =
        keys_together({key(0, 0, 40, 5, 15), key(0, 40, 100, 50, 95), key(1, 0, 100, 0.5, 80)});
    REQUIRE(later.size() == 1);
    CHECK(is(*later[0].sure, 50, 80));
}
