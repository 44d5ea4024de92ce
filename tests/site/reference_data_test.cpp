#include "site/reference_data.hpp"

#include <catch2/catch.hpp>

#include "support/scratch_folder.hpp"

using namespace keyhour;
using namespace date::literals;
using site::Outdated;

namespace {

// The layout of IERS's leap-seconds.list, as Debian's tzdata brings it: issue (here 8 July 2024),
// expiry and rows in seconds since 1900-01-01, the dates beside them in comments.
constexpr const char* kList =
    "#\tFile expires on 28 June 2025\n"
    "#$\t3929385600\n"
    "#@\t3960057600\n"
    "3644697600      36      # 1 Jul 2015\n"
    "3692217600      37      # 1 Jan 2017\n"
    "#h\tbe738595 57b0cf1b b0218343 fb77062f 5a775e7\n";

site::ReferenceData zones(const char* version) {
    return {"/zones", version, site::read_leap_second_list(kList)};
}

}  // namespace

TEST_CASE("a list of leap seconds tells the dates that its comments name", "[reference]") {
    const auto list = site::read_leap_second_list(kList);
    REQUIRE(list);
    CHECK(list->expires == site::LocalDate{2025_y / 6 / 28});
    CHECK(list->issued == site::LocalDate{2024_y / 7 / 8});
    CHECK(list->last_from == site::LocalDate{2017_y / 1 / 1});
    CHECK(list->tai_minus_utc_s == 37);
    CHECK_FALSE(site::read_leap_second_list(""));
    CHECK_FALSE(site::read_leap_second_list("#$\t3929385600\n#@ soon\nno row\n"));
}

TEST_CASE("the last leap second known is that of IERS Bulletin C 52", "[reference]") {
    // IERS Bulletin C 52 (2016-07-06): a positive leap second at the end of December 2016;
    // TAI - UTC is 37 s from 2017-01-01 on.
    CHECK(site::last_leap_second_known() == site::LocalDate{2017_y / 1 / 1});
}

TEST_CASE("zone data tells its version in its first line", "[reference]") {
    CHECK(site::version_of_zone_data("# version 2026f\n# ddeps\n") == "2026f");
    CHECK(site::version_of_zone_data("# version 2026f-dirty\n") == "2026f-dirty");
    CHECK(site::version_of_zone_data("# version \x1b[2J\n").empty());
    CHECK(site::version_of_zone_data("R d 1916 o").empty());
}

TEST_CASE("the magnetic model is out of date when its five years are over", "[reference]") {
    // WMM2025 holds from 2025.0 to 2030.0 (NOAA NCEI and BGS, model of 2024-11-13).
    CHECK(site::outdated({"/zones", "2029a", {}}, 2029_y / 12 / 31).empty());
    CHECK(site::outdated({"/zones", "2029a", {}}, 2030_y / 1 / 1) ==
          std::vector{Outdated::magnetic_model});
}

TEST_CASE("zone data counts as old once it is older than a year for certain", "[reference]") {
    // Without a list of leap seconds only its year is known, and a year after that is over.
    const site::ReferenceData year_alone{"/zones", "2024b", {}};
    CHECK(site::outdated(year_alone, 2025_y / 12 / 31).empty());
    CHECK(site::outdated(year_alone, 2026_y / 1 / 2) == std::vector{Outdated::zones});
    // With the list of July 2024 it came out before that of January 2025.
    CHECK(site::outdated(zones("2025a"), 2026_y / 1 / 20).empty());
    CHECK(site::outdated(zones("2025a"), 2026_y / 1 / 26) == std::vector{Outdated::zones});
    // An unknown version says nothing of its age.
    CHECK(site::outdated({"/zones", "", {}}, 2029_y / 1 / 1).empty());
}

TEST_CASE("without zone files, or behind the machine's leap seconds, data is out of date",
          "[reference]") {
    CHECK(site::outdated({}, 2026_y / 3 / 10) == std::vector{Outdated::no_zones});
    site::ReferenceData ahead = zones("2026a");
    ahead.leap_seconds->issued = 2026_y / 1 / 8;
    CHECK(site::outdated(ahead, 2026_y / 3 / 10).empty());
    ahead.leap_seconds->last_from = 2027_y / 1 / 1;
    CHECK(site::outdated(ahead, 2026_y / 3 / 10) == std::vector{Outdated::leap_seconds});
}

TEST_CASE("what a folder of zones says of itself is read, and nothing else", "[reference]") {
    const test::ScratchFolder folder;
    CHECK(site::reference_data(folder.path()).zone_version.empty());
    CHECK_FALSE(site::reference_data(folder.path()).leap_seconds);
    folder.write("tzdata.zi", "# version 2025b\nR d 1916 o\n");
    folder.write("leap-seconds.list", kList);
    const auto data = site::reference_data(folder.path());
    CHECK(data.zone_version == "2025b");
    REQUIRE(data.leap_seconds);
    CHECK(data.leap_seconds->tai_minus_utc_s == 37);
}
