#include "keyhour/site/magnetic.hpp"

#include <GeographicLib/MagneticModel.hpp>
#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

using keyhour::Angle;
using keyhour::Observer;
namespace site = keyhour::site;

namespace {

std::vector<std::vector<double>> rows_of(const std::string& path) {
    std::vector<std::vector<double>> rows;
    std::ifstream in{path};
    std::string line;
    std::getline(in, line);  // names of the columns
    while (std::getline(in, line)) {
        std::istringstream fields{line};
        rows.emplace_back();
        for (std::string field; std::getline(fields, field, ',');)
            rows.back().push_back(std::stod(field));
    }
    return rows;
}

}  // namespace

// Source: NOAA's test values file of the World Magnetic Model 2025, as carried by the npm package
// geomagnetism 0.2.0, test/values.csv, rows 2025.0 to 2029.5. Heights above the ellipsoid.
// U.S. Government material, not subject to copyright protection in the United States.
TEST_CASE("the field equals the 100 published test values of WMM2025", "[site][published]") {
    const auto rows =
        rows_of(std::string{KEYHOUR_TEST_DATA} + "/published/data/wmm2025_test_values.csv");
    REQUIRE(rows.size() == 100);
    for (const auto& row : rows) {
        REQUIRE(row.size() == 11);
        const Observer observer{Angle::degrees(row[2]), Angle::degrees(row[3]), 1000 * row[1]};
        const auto field = site::magnetic_field(observer, row[0]);
        REQUIRE(field);
        INFO(row[0] << ' ' << row[1] << " km " << row[2] << ' ' << row[3]);
        CHECK(field->north_nt == Approx(row[4]).margin(0.002));
        CHECK(field->east_nt == Approx(row[5]).margin(0.002));
        CHECK(field->down_nt == Approx(row[6]).margin(0.002));
        CHECK(field->horizontal_nt == Approx(row[7]).margin(0.002));
        CHECK(field->declination.in_degrees() == Approx(row[10]).margin(0.0051));  // 2 decimals
    }
}

// Source: the example of MathWorks' documentation page of wrldmagm (1000 m, 42.283 N 71.35 W,
// 2028-07-04), as quoted in the notes that came with the coefficients: D = -13.6891 degrees.
TEST_CASE("the declination equals an example published elsewhere", "[site][published]") {
    const Observer observer{Angle::degrees(42.283), Angle::degrees(-71.35), 1000};
    const double year = 2028 + 185.0 / 366;  // 4 July is the 186th day of a leap year
    const auto found = site::declination(observer, year);
    REQUIRE(found);
    CHECK(found->in_degrees() == Approx(-13.6891).margin(0.0001));
}

TEST_CASE("years outside 2025 to 2030 have no declination", "[site]") {
    const Observer observer{Angle::degrees(52.95), Angle::degrees(-1.15), 0};
    CHECK(site::declination(observer, 2025.0));
    CHECK(site::declination(observer, 2029.999));
    for (const double year : {2024.99, 2030.0, 2199.0, std::nan("")}) {
        const auto found = site::declination(observer, year);
        REQUIRE_FALSE(found);
        CHECK(found.error().find("holds from 2025 up to 2030") != std::string::npos);
        CHECK(found.error().find("give the bearing from true north") != std::string::npos);
    }
}

// Blackout zone: horizontal field below 2000 nT; caution zone: below 6000 nT (WMM2025 technical
// report, as quoted in public repositories).
TEST_CASE("near the magnetic pole a compass is refused", "[site]") {
    const auto found = site::declination({Angle::degrees(86), Angle::degrees(140), 0}, 2026.0);
    REQUIRE_FALSE(found);
    CHECK(found.error().find("a compass is useless here") == 0);
    // Row 2025.0, 54 km, 82 N 87 E of the test values: H = 2302 nT.
    const auto careful =
        site::magnetic_field({Angle::degrees(82), Angle::degrees(87), 54000}, 2025.0);
    REQUIRE(careful);
    CHECK(careful->compass_needs_care());
    CHECK_FALSE(careful->compass_useless());
}

// The same 100 published values through the files that are installed with the program, and the
// copy inside the program against them.
TEST_CASE("the bundled model files give the published values through GeographicLib",
          "[published]") {
    const GeographicLib::MagneticModel bundled{"wmm2025", KEYHOUR_MAGNETIC_MODEL};
    CHECK(bundled.MinTime() == site::magnetic_first_year);
    CHECK(bundled.MaxTime() == site::magnetic_last_year);
    for (const auto& row :
         rows_of(std::string{KEYHOUR_TEST_DATA} + "/published/data/wmm2025_test_values.csv")) {
        double east = 0, north = 0, up = 0;
        bundled(row[0], row[2], row[3], 1000 * row[1], east, north, up);
        INFO(row[0] << ' ' << row[1] << " km " << row[2] << ' ' << row[3]);
        CHECK(north == Approx(row[4]).margin(0.002));
        CHECK(east == Approx(row[5]).margin(0.002));
        CHECK(-up == Approx(row[6]).margin(0.002));
        const Observer observer{Angle::degrees(row[2]), Angle::degrees(row[3]), 1000 * row[1]};
        const auto embedded = site::magnetic_field(observer, row[0]);
        REQUIRE(embedded);
        CHECK(embedded->east_nt == Approx(east).margin(1e-6));
        CHECK(embedded->north_nt == Approx(north).margin(1e-6));
    }
}

TEST_CASE("a compass read a year outside the model's years is corrected, with a warning",
          "[site]") {
    const Observer observer{Angle::degrees(52.95), Angle::degrees(-1.15), 0};
    const auto inside = site::compass_correction(observer, 2026.1);
    REQUIRE(inside);
    CHECK_FALSE(inside->warning);
    CHECK(inside->declination.in_degrees() ==
          Approx(site::declination(observer, 2026.1)->in_degrees()).margin(1e-12));
    const auto late = site::compass_correction(observer, 2031.5);
    REQUIRE(late);
    REQUIRE(late->warning);
    CHECK(late->warning->find("holds from 2025 up to 2030, not for 2031.5") != std::string::npos);
    CHECK(late->uncertainty.in_degrees() ==
          Approx(std::hypot(site::magnetic_field(observer, 2029.9)->uncertainty.in_degrees(), 0.15))
              .margin(1e-3));
    CHECK_FALSE(site::compass_correction(observer, 1999.3));
    CHECK_FALSE(site::compass_correction(observer, 2035.1));
    CHECK_FALSE(site::compass_correction({Angle::degrees(86), Angle::degrees(140), 0}, 2026.0));
    const auto careful =
        site::compass_correction({Angle::degrees(82), Angle::degrees(87), 54000}, 2025.0);
    REQUIRE(careful);
    CHECK(careful->warning->find("a compass needs care here") == 0);
}
