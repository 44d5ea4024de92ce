#include "keyhour/study/patch_doubt.hpp"

#include <date/date.h>

#include <catch2/catch.hpp>
#include <cmath>

#include "worked_room.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

const Instant afternoon = Instant::from_unix_s(static_cast<double>(
    std::chrono::seconds{date::sys_days{date::year{2026} / 3 / 3}.time_since_epoch()}.count() +
    14 * 3600));

struct Lit {
    site::Location location;
    RoomStudy study{location, SharedTrack::make(afternoon - Seconds{86400 * 2.0},
                                                afternoon + Seconds{86400 * 2.0})};
    PatchInstant instant = patches_at(study, afternoon);

    explicit Lit(site::Location l) : location{std::move(l)} {}
    Lit(const Lit&) = delete;
    Lit& operator=(const Lit&) = delete;

    /// Of the patch on the floor, with the doubt of one input alone.
    [[nodiscard]] std::optional<double> floor_band(Input input, int members = 64) const {
        EnsembleSettings one{members, 1, {}};
        one.scale[static_cast<std::size_t>(input)] = 1;
        const auto bands = PatchEnsemble{study, one}.edge_bands_m(instant);
        REQUIRE(bands.size() == instant.patches.size());
        for (std::size_t i = 0; i < bands.size(); ++i)
            if (instant.patches[i].patch.surface.kind == room::Surface::Kind::floor)
                return bands[i];
        FAIL("no patch on the floor");
        return std::nullopt;
    }
};

site::Location big_window(double within_deg = 0) {
    WorkedRoom room;
    room.within_deg = within_deg;
    room.sill_m = 0.4;
    return room.location();
}

}  // namespace

TEST_CASE("a patch moves along the wall as far as its window may", "[study][doubt]") {
    site::Location l = big_window();
    l.room->windows[0].within.left_m = 0.1;
    // Nine tenths of -0.1..0.1 lie within 0.09.
    CHECK(Lit{l}.floor_band(Input::left).value() == Approx(0.09).margin(0.003));
}

TEST_CASE("a patch moves into the room by the sill's doubt over the sun's slope",
          "[study][doubt]") {
    site::Location l = big_window();
    l.room->windows[0].within.sill_m = 0.05;
    const Lit lit{l};
    // Sill and head move together: the whole outline goes along the ray's way on the floor.
    const double along =
        1 / std::tan(lit.study.path().at(afternoon).altitude_deg * std::numbers::pi / 180);
    CHECK(lit.floor_band(Input::sill).value() == Approx(0.045 * along).epsilon(0.04));
}

TEST_CASE("bars do not shorten the band, and no doubt leaves none", "[study][doubt]") {
    site::Location l = big_window();
    l.room->windows[0].bars = {6, 6, 0.04, 0};
    l.room->windows[0].within.left_m = 0.1;
    const Lit lit{l};
    CHECK(lit.floor_band(Input::left).value() == Approx(0.09).margin(0.003));
    const EnsembleSettings none{8, 1, {}};
    for (const auto& band : PatchEnsemble{lit.study, none}.edge_bands_m(lit.instant))
        CHECK(band.value() == Approx(0).margin(1e-5));
}

TEST_CASE("where the light may not come at all there is no band", "[study][doubt]") {
    site::Location l = big_window();
    const Lit lit{l};
    // Ten minutes of sun are sure only if the clock is right to ten minutes.
    site::Location late = l;
    late.clock_within_s = 12 * 3600;
    CHECK_FALSE(Lit{late}.floor_band(Input::clock).has_value());
    late.clock_within_s = 60;
    const double minute = Lit{late}.floor_band(Input::clock).value();
    CHECK(minute > 0.002);
    CHECK(minute < 0.05);
}
