#include "keyhour/site/geodesic.hpp"

#include <catch2/catch.hpp>

using namespace keyhour;

namespace {

struct Published {
    double latitude1, longitude1, azimuth1, latitude2, longitude2, azimuth2, length_m;
};

}  // namespace

// Source: GeodTest.dat (C. F. F. Karney, Test set for geodesics, 2010, doi 10.5281/zenodo.32156),
// its first line, and three rows of the check that GeographicLib ships with its geodesic routines
// (tests/geodtest.cpp, made from that set). Recalled from memory; that they agree to the last digit
// says that memory served.
TEST_CASE("geodesic azimuths and lengths are those of the published test set",
          "[site][published]") {
    const Published rows[] = {{36.530042355041, 0, 176.125875162171, -48.164270779097762864,
                               5.762344694676510456, 175.334308316285410561, 9398502.0434687},
                              {35.60777, -139.44815, 111.098748429560326, -11.17491, -69.95921,
                               129.289270889708762, 8935244.5604818305},
                              {55.52454, 106.05087, 22.020059880982801, 77.03196, 197.18234,
                               109.112041110671519, 4105086.1713924406},
                              {-21.97856, 142.59065, -32.44456876433189, 41.84138, 98.56635,
                               -41.84359951440466, 8394328.894657671}};
    for (const Published& row : rows) {
        const auto place = [](double latitude, double longitude) {
            return site::Coordinates{Angle::degrees(latitude), Angle::degrees(longitude)};
        };
        const auto line = site::line_between(place(row.latitude1, row.longitude1),
                                             place(row.latitude2, row.longitude2));
        CAPTURE(row.latitude1);
        CHECK(line.bearing_at_first.in_degrees() == Approx(row.azimuth1).margin(1e-12));
        CHECK(line.bearing_at_last.in_degrees() == Approx(row.azimuth2).margin(1e-12));
        CHECK(line.length_m == Approx(row.length_m).margin(1e-6));
    }
}

TEST_CASE("half-way along a short line north of the equator its bearing is the mean", "[site]") {
    const site::Coordinates west{Angle::degrees(60), Angle::degrees(10)},
        east{Angle::degrees(60), Angle::degrees(10.1)};
    CHECK(site::line_between(west, east).bearing_at_middle().in_degrees() ==
          Approx(90).margin(1e-9));
}
