#include "read/footprints.hpp"

#include "keyhour/site/plan_frame.hpp"
#include "reader.hpp"

KEYHOUR_FUZZ_READER(text) {
    using namespace keyhour;
    const site::Coordinates at{Angle::degrees(52.9536), Angle::degrees(-1.1505)};
    const site::PlanFrame frame{at, Azimuth{Angle::degrees(16)}};
    const auto read =
        read::read_footprints_text(std::string{text}, "fuzzed.geojson", frame, at, {});
    if (!read) (void)read::text(read.error());
}
