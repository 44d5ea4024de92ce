#include "read/length.hpp"

#include <catch2/catch.hpp>

using keyhour::read::read_length;
using keyhour::read::unit_doubt;

TEST_CASE("a length with its unit is taken at its word", "[read]") {
    // The foot is 0.3048 m and the inch 25.4 mm exactly: NIST Handbook 44, appendix C. From memory.
    CHECK(read_length("127 cm").value() == Approx(1.27).epsilon(1e-15));
    CHECK(read_length("0.9 m").value() == 0.9);
    CHECK(read_length("1200mm").value() == Approx(1.2).epsilon(1e-15));
    CHECK(read_length("50 in").value() == Approx(1.27).epsilon(1e-15));
    CHECK(read_length("4 ft").value() == Approx(1.2192).epsilon(1e-15));
    CHECK(read_length("4 ft 2 in").value() == Approx(1.27).epsilon(1e-15));
    CHECK(read_length("4' 2\"").value() == Approx(1.27).epsilon(1e-15));
    CHECK(read_length("4'2''").value() == Approx(1.27).epsilon(1e-15));
    CHECK(read_length("4\u2032 2\u2033").value() == Approx(1.27).epsilon(1e-15));
    CHECK(read_length("4 feet 2 inches").value() == Approx(1.27).epsilon(1e-15));
    CHECK(read_length("1 m 27 cm").value() == Approx(1.27).epsilon(1e-15));
    CHECK(read_length("2 1/2 in").value() == Approx(0.0635).epsilon(1e-15));
    CHECK(read_length("4' 2 1/2\"").value() == Approx(1.2827).epsilon(1e-15));
    CHECK(read_length("3/4 in.").value() == Approx(0.01905).epsilon(1e-15));
    CHECK(read_length(" -20 cm ").value() == Approx(-0.2).epsilon(1e-15));
}

TEST_CASE("what is no length is refused with the reason", "[read]") {
    CHECK(read_length("").error() == "it is empty");
    CHECK(read_length("  ").error() == "it is empty");
    CHECK(read_length("0.9").error() == "it has no unit");
    CHECK(read_length("4 ft 2").error() == "it has no unit");
    CHECK(read_length("0,9 m").error() == "decimals stand after a point, not a comma");
    CHECK(read_length("9 furlongs").error() == "\"furlongs\" is no unit of length");
    CHECK(read_length("2 in 4 ft").error() == "\"ft\" cannot follow \"in\"");
    CHECK(read_length("1 m 2 in").error() == "\"in\" cannot follow \"m\"");
    CHECK(read_length("4 ft 4 ft").error() == "\"ft\" cannot follow \"ft\"");
    CHECK(read_length("wide").error() == "a number is missing before \"wide\"");
    CHECK(read_length("--3 m").error() == "a number is missing before \"-3 m\"");
    CHECK(read_length("1/0 in").error() == "a fraction needs a number below its stroke");
    CHECK(read_length("nan m").error() == "a number is missing before \"nan m\"");
}

TEST_CASE("a number that looks like another unit is asked about, not converted", "[read]") {
    CHECK(unit_doubt(3, "3.0", 2).question == "is this feet?");
    CHECK(unit_doubt(3, "3.0", 2).answer == "write \"3.0 ft\", or \"3.0 m\" if metres are meant");
    CHECK(unit_doubt(90, "90", 4).question == "is this inches or centimetres?");
    CHECK(unit_doubt(90, "90", 2).question == "is this centimetres?");
    CHECK(unit_doubt(1200, "1200", 4).question == "is this millimetres?");
    CHECK(unit_doubt(1e9, "1e9", 4).question == "is the unit metres?");
}
