#include "keyhour/site/geodesic.hpp"

#include <GeographicLib/Geodesic.hpp>

namespace keyhour::site {

GeodesicLine line_between(const Coordinates& first, const Coordinates& last) {
    double length = 0, at_first = 0, at_last = 0;
    GeographicLib::Geodesic::WGS84().Inverse(
        first.latitude.in_degrees(), first.longitude.in_degrees(), last.latitude.in_degrees(),
        last.longitude.in_degrees(), length, at_first, at_last);
    return {length, Angle::degrees(at_first), Angle::degrees(at_last)};
}

}  // namespace keyhour::site
