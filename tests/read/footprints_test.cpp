// Buildings from GeoJSON. The valid documents follow the examples of RFC 7946, section 1.5 and
// appendix A; what is refused is what its sections 3 and 4 forbid.
#include <fmt/format.h>

#include <GeographicLib/Geodesic.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "keyhour/site/plan_frame.hpp"
#include "read/location_file.hpp"
#include "support/scratch_folder.hpp"

using namespace keyhour;
using namespace keyhour::read;
using keyhour::test::ScratchFolder;

namespace {

/// A site at the corner [100, 0] of the RFC's example squares, which are degrees wide; heights as
/// the task at hand has them.
std::string rfc_site(const std::string& more = "") {
    return "format = 1\n[site]\nposition = \"0.0005N 100.0005E\"\ntime_zone = \"Asia/Bangkok\"\n"
           "buildings = { file = \"f.json\"" +
           more + " }\n";
}

struct Answer {
    tl::expected<site::Location, std::vector<Problem>> read;
    [[nodiscard]] std::string first_complaint() const {
        return read ? "" : read.error().front().message();
    }
    [[nodiscard]] const std::vector<room::Building>& buildings() const {
        REQUIRE(read.has_value());
        return site::buildings(*read);
    }
    [[nodiscard]] const std::vector<std::string>& questions() const {
        REQUIRE(read.has_value());
        return read->questions;
    }
};

Answer ask(const std::string& json, const std::string& location = rfc_site()) {
    const ScratchFolder folder;
    folder.write("f.json", json);
    return {read_location_text(location, folder.path("a.toml"))};
}

/// A square of about 11 m a side, some 20 m to the north-east of the site at [100, 0].
std::string square(double west, double south, double size = 0.0001) {
    return fmt::format("[[{0}, {1}], [{2}, {1}], [{2}, {3}], [{0}, {3}], [{0}, {1}]]", west, south,
                       west + size, south + size);
}

std::string feature(const std::string& geometry, const std::string& properties) {
    return R"({"type": "Feature", "geometry": )" + geometry + R"(, "properties": )" + properties +
           "}";
}

std::string polygon(const std::string& rings) {
    return R"({"type": "Polygon", "coordinates": [)" + rings + "]}";
}

std::string near_square() {
    return square(100.0007, 0.0007);
}

}  // namespace

TEST_CASE("the feature collection of RFC 7946 section 1.5 reads: points and lines are no buildings",
          "[read][published]") {
    // RFC 7946, section 1.5, with a height beside "prop0" of its polygon.
    const std::string document = R"({"type": "FeatureCollection", "features": [
        {"type": "Feature", "geometry": {"type": "Point", "coordinates": [102.0, 0.5]},
         "properties": {"prop0": "value0"}},
        {"type": "Feature", "geometry": {"type": "LineString", "coordinates":
            [[102.0, 0.0], [103.0, 1.0], [104.0, 0.0], [105.0, 1.0]]},
         "properties": {"prop0": "value0", "prop1": 0.0}},
        {"type": "Feature", "geometry": {"type": "Polygon", "coordinates":
            [[[100.0, 0.0], [101.0, 0.0], [101.0, 1.0], [100.0, 1.0], [100.0, 0.0]]]},
         "properties": {"prop0": "value0", "prop1": {"this": "that"}, "height": 12}}]})";
    const Answer answer = ask(document);
    REQUIRE(answer.buildings().size() == 1);
    const room::Building& b = answer.buildings()[0];
    CHECK(b.height_m == 12);
    CHECK(b.name == "footprint 3");
    CHECK(b.footprint.size() == 4);
    // The corner [100, 0] lies 78.45 m from the site: by GeographicLib's geodesic.
    double metres = 0, azimuth = 0, there = 0;
    GeographicLib::Geodesic::WGS84().Inverse(0.0005, 100.0005, 0, 100, metres, azimuth, there);
    double nearest = 1e9;
    room::Point2 corner;
    for (const room::Point2 p : b.footprint)
        if (room::length(p) < nearest) {
            nearest = room::length(p);
            corner = p;
        }
    CHECK(nearest == Approx(metres).margin(1e-3));
    CHECK(std::atan2(corner.x, corner.y) * 180 / 3.14159265358979 == Approx(azimuth).margin(1e-3));
}

TEST_CASE("polygons with holes, multi polygons and collections of RFC 7946 appendix A read",
          "[read][published]") {
    // Appendix A.3: a polygon with a hole from 100.2 to 100.8: the site stands in the corner, the
    // pieces together cover what the whole covers.
    const std::string holed =
        R"({"type": "Polygon", "coordinates": [
            [[100.0, 0.0], [101.0, 0.0], [101.0, 1.0], [100.0, 1.0], [100.0, 0.0]],
            [[100.8, 0.8], [100.8, 0.2], [100.2, 0.2], [100.2, 0.8], [100.8, 0.8]]]})";
    const Answer court = ask(feature(holed, R"({"height": 9, "name": "hall"})"));
    REQUIRE(court.buildings().size() == 2);
    CHECK(court.buildings()[0].name == "hall");
    CHECK(court.buildings()[1].name == "hall (2)");
    const site::PlanFrame frame{*court.read};
    const auto covered = [&](double latitude, double longitude) {
        const room::Point2 p = frame.on_plan({Angle::degrees(latitude), Angle::degrees(longitude)});
        int in = 0;
        for (const room::Building& b : court.buildings())
            in += room::contains(b.footprint, p) ? 1 : 0;
        return in;
    };
    CHECK(covered(0.1, 0.5 + 100) == 1);
    CHECK(covered(0.9, 100.3) == 1);
    CHECK(covered(0.5, 100.4) == 0);
    CHECK(covered(0.5, 100.7) == 0);
    // Appendix A.6: two polygons, the second with a hole, the first far to the east.
    const std::string multi =
        R"({"type": "MultiPolygon", "coordinates": [
            [[[102.0, 2.0], [103.0, 2.0], [103.0, 3.0], [102.0, 3.0], [102.0, 2.0]]],
            [[[100.0, 0.0], [101.0, 0.0], [101.0, 1.0], [100.0, 1.0], [100.0, 0.0]],
             [[100.2, 0.2], [100.2, 0.8], [100.8, 0.8], [100.8, 0.2], [100.2, 0.2]]]]})";
    CHECK(ask(feature(multi, R"({"height": 9, "name": "hall"})")).buildings().size() == 2);
    // Appendix A.7: a collection of a point and a line holds no building.
    const Answer none = ask(
        R"({"type": "GeometryCollection", "geometries": [
            {"type": "Point", "coordinates": [100.0, 0.0]},
            {"type": "LineString", "coordinates": [[101.0, 0.0], [102.0, 1.0]]}]})");
    CHECK(none.buildings().empty());
    REQUIRE(none.questions().size() == 1);
    CHECK(none.questions()[0].find("holds no footprint: is it the right file?") !=
          std::string::npos);
    // Section 3.2: an unlocated feature; section 3.1: empty coordinates.
    CHECK(ask(R"({"type": "Feature", "geometry": null, "properties": null})").buildings().empty());
    CHECK(ask(polygon("")).buildings().empty());
}

TEST_CASE("heights are numbers or text, and a missing one is asked about", "[read]") {
    const auto height = [&](const std::string& value) {
        const Answer answer = ask(feature(polygon(near_square()), R"({"height": )" + value + "}"));
        return answer.buildings().at(0).height_m;
    };
    CHECK(height("9.5") == 9.5);
    CHECK(height("\"9.5\"") == 9.5);
    CHECK(height("\"30 ft\"") == Approx(9.144));
    const Answer named =
        ask(feature(polygon(near_square()), R"({"levels": 3, "tall": 7, "name": "mill"})"),
            rfc_site(", height = \"tall\""));
    CHECK(named.buildings().at(0).height_m == 7);
    CHECK(named.buildings().at(0).name == "mill");
    const Answer missing = ask(feature(polygon(near_square()), R"({"name": "mill"})"));
    CHECK(missing.buildings().empty());
    REQUIRE(missing.questions().size() == 1);
    CHECK(missing.questions()[0].ends_with(
        "f.json: no \"height\" for \"mill\": how high? Left out until it is known."));
    for (const char* wrong : {"\"high\"", "-3", "0", "true", "[3]", "\"-3\"", "12000"}) {
        const Answer answer =
            ask(feature(polygon(near_square()), std::string{R"({"height": )"} + wrong + "}"));
        CAPTURE(wrong);
        CHECK(answer.first_complaint().starts_with("properties.height: "));
    }
}

TEST_CASE("what stands beyond the radius is left out, and all of it is asked about", "[read]") {
    const std::string both = R"({"type": "FeatureCollection", "features": [)" +
                             feature(polygon(near_square()), R"({"height": 5, "id": 7})") + "," +
                             feature(polygon(square(100.05, 0.05)), R"({"height": 5})") + "]}";
    const Answer answer = ask(both);
    REQUIRE(answer.buildings().size() == 1);
    CHECK(answer.buildings()[0].name == "footprint 7");
    CHECK(answer.read->imported_buildings == 1);
    CHECK(answer.questions().empty());
    CHECK(ask(both, rfc_site(", within_m = 5")).buildings().empty());
    const Answer far = ask(feature(polygon(square(101, 1)), R"({"height": 5})"));
    REQUIRE(far.questions().size() == 1);
    CHECK(far.questions()[0].find(
              "no footprint lies within 1000 m of the site, the nearest is 156.") !=
          std::string::npos);
}

TEST_CASE("swapped coordinates are asked about, not read", "[read]") {
    // Latitude first: 100 degrees of latitude cannot be.
    CHECK(ask(polygon("[[0, 100], [0, 101], [1, 101], [0, 100]]")).first_complaint() ==
          "coordinates[0][0]: latitude 100 is not in -90..90: longitude and latitude swapped? "
          "accepted: [longitude, latitude] in degrees, longitude first (RFC 7946, section 3.1.1)");
    // At 52 N 1 W both orders are places: the wrong one lies in the Gulf of Aden.
    const std::string press =
        "format = 1\n[site]\nposition = \"52.9536N 1.1505W\"\ntime_zone = \"Europe/London\"\n"
        "buildings = \"f.json\"\n";
    const std::string right =
        "[[-1.1507, 52.9540], [-1.1505, 52.9540], [-1.1505, 52.9541], [-1.1507, 52.9540]]";
    const std::string wrong =
        "[[52.9540, -1.1507], [52.9540, -1.1505], [52.9541, -1.1505], [52.9540, -1.1507]]";
    CHECK(ask(feature(polygon(right), R"({"height": 5})"), press).buildings().size() == 1);
    CHECK(ask(feature(polygon(wrong), R"({"height": 5})"), press)
              .first_complaint()
              .find("are longitude and latitude swapped?") != std::string::npos);
}

TEST_CASE("footprints across the antimeridian and in the far south have their place", "[read]") {
    const std::string taveuni =
        "format = 1\n[site]\nposition = \"16.8S 179.9999E\"\ntime_zone = \"Pacific/Fiji\"\n"
        "buildings = \"f.json\"\n";
    const std::string across =
        "[[-179.9999, -16.8], [-179.9998, -16.8], [-179.9998, -16.7999], [-179.9999, -16.8]]";
    const Answer answer = ask(feature(polygon(across), R"({"height": 5})"), taveuni);
    REQUIRE(answer.buildings().size() == 1);
    // 0.0002 degree of longitude at 16.8 S: 21.3 m by GeographicLib.
    double metres = 0;
    GeographicLib::Geodesic::WGS84().Inverse(-16.8, 179.9999, -16.8, -179.9999, metres);
    CHECK(answer.buildings()[0].footprint[0].x == Approx(metres).margin(1e-3));
}

TEST_CASE("each fault of a GeoJSON file is told with its path", "[read]") {
    const auto told = [](const std::string& json) { return ask(json).first_complaint(); };
    CHECK(told(feature(polygon("[[100, 0], [100.0001, 0], [100.0001, 0.0001], [100, 0.0001]]"),
                       "{}")) ==
          "geometry.coordinates[0]: the ring is not closed; its last position must be the same as "
          "its first (RFC 7946, section 3.1.6)");
    CHECK(told(polygon("[[100, 0], [100.0001, 0], [100, 0]]")) ==
          "coordinates[0]: a ring of fewer than four positions; accepted: four or more, the last "
          "the same as the first (RFC 7946, section 3.1.6)");
    CHECK(
        told(R"({"type": "FeatureCollection", "features": [)" +
             feature(polygon("[[100, 0], [100.001, 0.001], [100.001, 0], [100, 0.001], [100, 0]]"),
                     R"({"height": 5})") +
             "]}") ==
        "features[0].geometry.coordinates[0]: the ring crosses or touches itself; each corner "
        "once, in order around the building");
    CHECK(told(polygon("[[100, 0], [\"x\", 0], [100, 1], [100, 0]]"))
              .starts_with("coordinates[0][1]: this is no position; "));
    CHECK(told(polygon("[[100, 0], [181, 0], [100, 1], [100, 0]]"))
              .starts_with("coordinates[0][1]: longitude 181 is not in -180..180; "));
    CHECK(told(R"({"type": "FeatureCollection"})").starts_with("features: the list of features"));
    CHECK(told(R"({"type": "Polygone", "coordinates": []})")
              .starts_with("type: \"Polygone\" is no type of geometry; "));
    CHECK(told(R"({"type": "Polygon"})").starts_with("coordinates: the coordinates are missing"));
    CHECK(told("[]") == "the document is no JSON object; accepted: GeoJSON (RFC 7946)");
    CHECK(told(R"({"type": "FeatureCollection", "features": [], "crs": {"name": "EPSG:27700"}})")
              .starts_with("crs: positions in another reference system"));
    std::string deep = "{}";
    for (int i = 0; i < 40; ++i)
        deep = R"({"type": "GeometryCollection", "geometries": [)" + deep + "]}";
    CHECK(told(deep).find("collections stand too deep in each other") != std::string::npos);
    const Answer syntax = ask("{\"type\": \"Polygon\",\n  \"coordinates\": [[}");
    REQUIRE_FALSE(syntax.read.has_value());
    CHECK(syntax.read.error()[0].line == 2);
    CHECK(syntax.read.error()[0].column == 20);
    CHECK(read_location_text(rfc_site(), "nowhere/a.toml")
              .error()[0]
              .found.starts_with("the file cannot be read: "));
}

TEST_CASE("the room's own house is left out, and a court around it is not", "[read]") {
    const std::string room =
        "format = 1\n[site]\nposition = \"0.0005N 100.0005E\"\ntime_zone = \"Asia/Bangkok\"\n"
        "buildings = \"f.json\"\n"
        "[room]\nfloor = [[0, 0], [5, 0], [5, 4], [0, 4]]\nwalls = [\"a\", \"b\", \"c\", \"d\"]\n"
        "height_m = 3\nbearing = { wall = \"a\", faces = 180, north = \"true\" }\n";
    const std::string house = square(100.0004, 0.0004, 0.0003);
    const Answer own = ask(feature(polygon(house), R"({"height": 9, "name": "house"})"), room);
    CHECK(own.buildings().empty());
    REQUIRE(own.questions().size() == 1);
    CHECK(own.questions()[0].find("the room stands in \"house\": left out") != std::string::npos);
    const std::string court = square(100.00045, 0.00045, 0.0002);
    const Answer around =
        ask(feature(polygon(house + "," + court), R"({"height": 9, "name": "house"})"), room);
    CHECK(around.buildings().size() == 2);
    CHECK(around.questions().empty());
}
