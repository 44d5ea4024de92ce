#include "../../src/site/zone_files.hpp"

#include <catch2/catch.hpp>
#include <cstdint>
#include <string>

#include "keyhour/site/zone.hpp"

using namespace keyhour::site;

// RFC 8536, appendix B.2, shows a file that ends so.
TEST_CASE("the last line of a zone file is its rule for all later years", "[site]") {
    CHECK(last_line_of_zone_file(std::string{"TZif2...\n", 9} + "HST10\n") == "HST10");
    CHECK(last_line_of_zone_file("TZif3....\nGMT0BST,M3.5.0/1,M10.5.0\n") ==
          "GMT0BST,M3.5.0/1,M10.5.0");
    CHECK(last_line_of_zone_file("TZif1....\nHST10\n").empty());  // version 1 has none
    CHECK(last_line_of_zone_file("TZif2....\nHST10").empty());    // cut short
    CHECK(last_line_of_zone_file("").empty());
    CHECK(last_line_of_zone_file("nonsense").empty());
}

// ISO 6709, as zone1970.tab describes it in its own head.
TEST_CASE("coordinates of the zone table are read", "[site]") {
    const auto london = read_iso6709("+513030-0000731");
    REQUIRE(london);
    CHECK(london->latitude_deg == Approx(51 + 30.0 / 60 + 30.0 / 3600));
    CHECK(london->longitude_deg == Approx(-(7.0 / 60 + 31.0 / 3600)));
    const auto andorra = read_iso6709("+4230+00131");
    REQUIRE(andorra);
    CHECK(andorra->latitude_deg == Approx(42.5));
    CHECK(andorra->longitude_deg == Approx(1 + 31.0 / 60));
    for (const char* bad : {"", "+", "+4230", "4230+00131", "+42x0+00131", "+423+00131"})
        CHECK_FALSE(read_iso6709(bad));
}

namespace {

std::string big_endian(std::uint32_t value) {
    std::string out;
    for (int shift = 24; shift >= 0; shift -= 8)
        out += static_cast<char>(value >> static_cast<unsigned>(shift) & 0xffU);
    return out;
}

/// A block of a TZif file with one local time type, and no transition.
std::string block(char version, const std::string& type, const std::string& letters) {
    std::string out = "TZif";
    out += version;
    out.append(15, '\0');
    for (const std::size_t count : {std::size_t{0}, std::size_t{0}, std::size_t{0}, std::size_t{0},
                                    type.size() / 6, letters.size()})
        out += big_endian(static_cast<std::uint32_t>(count));
    return out + type + letters;
}

const std::string hour_east{"\0\0\x0e\x10\0\0", 6}, cet{"CET\0", 4};

}  // namespace

// RFC 8536, section 3: the fields and their limits.
TEST_CASE("a file that is no TZif is told by what is wrong with it", "[site]") {
    const std::string good = block('2', hour_east, cet) + block('2', hour_east, cet) + "\nCET-1\n";
    CHECK_FALSE(fault_of_zone_file(good));
    CHECK_FALSE(fault_of_zone_file(block('\0', hour_east, cet)));  // version 1 ends there
    CHECK(fault_of_zone_file("") == "does not begin with \"TZif\"");
    CHECK(fault_of_zone_file("# version 2024a\nnot a zone\n") == "does not begin with \"TZif\"");
    CHECK(fault_of_zone_file(good.substr(0, 30)) == "is cut short in its header");
    CHECK(fault_of_zone_file(block('7', hour_east, cet)) == "is of a version that is not known");
    CHECK(fault_of_zone_file(block('2', "", cet)) == "has no local time type");
    CHECK(fault_of_zone_file(block('2', hour_east, "CET")) == "has an abbreviation without an end");
    CHECK(fault_of_zone_file(block('2', std::string{"\0\0\x0e\x10\0\x09", 6}, cet)) ==
          "has a damaged local time type");
    CHECK(fault_of_zone_file(block('2', std::string{"\x7f\0\0\0\0\0", 6}, cet)) ==
          "has an offset of more than a day");
    CHECK(fault_of_zone_file(block('2', hour_east, cet)) == "does not begin with \"TZif\"");
    CHECK(fault_of_zone_file(good.substr(0, good.size() - 1)) == "has no rule at its end");
    for (std::size_t n = 0; n < good.size(); ++n)  // cut anywhere: told, never read beyond
        CHECK(fault_of_zone_file(std::string_view{good}.substr(0, n)));
}

TEST_CASE("a table among the zone files is no zone", "[site]") {
    for (const char* name : {"tzdata.zi", "leapseconds", "zone.tab", "iso3166.tab"}) {
        const auto zone = Zone::named(name);
        REQUIRE_FALSE(zone);
        CHECK(zone.error().find(name) != std::string::npos);
    }
}
