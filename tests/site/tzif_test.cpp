#include "site/tzif.hpp"

#include <catch2/catch.hpp>
#include <cstdint>
#include <cstdlib>
#include <ctime>
#include <string>

#include "site/zone_archive.hpp"
#include "site/zone_files.hpp"

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

namespace {

std::string big_endian(std::uint32_t value) {
    std::string out;
    for (int shift = 24; shift >= 0; shift -= 8)
        out += static_cast<char>(value >> static_cast<unsigned>(shift) & 0xffU);
    return out;
}

/// A block of a TZif file. @param times  of transitions, each with the local time type after it
std::string block(char version, const std::string& type, const std::string& letters,
                  const std::string& times = {}, std::size_t transitions = 0,
                  std::size_t leap_seconds = 0) {
    std::string out = "TZif";
    out += version;
    out.append(15, '\0');
    for (const std::size_t count : {std::size_t{0}, std::size_t{0}, leap_seconds, transitions,
                                    type.size() / 6, letters.size()})
        out += big_endian(static_cast<std::uint32_t>(count));
    return out + times + type + letters;
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

TEST_CASE("changes that do not ascend, and leap seconds, make no zone", "[site]") {
    const std::string late = big_endian(2000), early = big_endian(1000);
    const std::string indices(2, '\0');
    CHECK_FALSE(fault_of_zone_file(block('\0', hour_east, cet, early + late + indices, 2)));
    CHECK(fault_of_zone_file(block('\0', hour_east, cet, late + early + indices, 2)) ==
          "lists its changes out of their order");
    CHECK(fault_of_zone_file(block('\0', hour_east, cet + std::string(8, '\0'), {}, 0, 1)) ==
          "counts leap seconds, which clocks do not");
}

TEST_CASE("a file's changes hold from their second on, and then its rule", "[site]") {
    const std::string types = hour_east + std::string{"\0\0\x1c\x20\1\4", 6};
    const std::string letters{"CET\0CEST\0", 9};
    // Version 1, of 32 bits: to summer time at 1000, back at 2000, no rule.
    const auto old = zone_in(block(
        '\0', types, letters, big_endian(1000) + big_endian(2000) + std::string{"\1\0", 2}, 2));
    REQUIRE(old);
    CHECK(old->rule == nullptr);
    CHECK(old->listed->at(999, false)->abbreviation == "CET");
    CHECK(old->listed->at(1000, false)->abbreviation == "CEST");
    CHECK(old->listed->at(1000, false)->east_s == 7200);
    CHECK(old->listed->at(1999, false)->daylight_saving);
    CHECK(old->listed->at(2000, false)->east_s == 3600);
    // Version 2, of 64 bits, with a rule that holds from the last change on.
    const std::string wide = std::string(4, '\0');
    const auto young = zone_in(block('2', hour_east, cet) +
                               block('2', types, letters,
                                     std::string(4, '\xff') + big_endian(0xfffffff0U) + wide +
                                         big_endian(2000) + std::string{"\1\0", 2},
                                     2) +
                               "\nCET-1CEST,M3.5.0,M10.5.0/3\n");
    REQUIRE(young);
    REQUIRE(young->rule != nullptr);
    CHECK(young->rule->text() == "CET-1CEST,M3.5.0,M10.5.0/3");
    CHECK(young->listed->at(-17, true)->abbreviation == "CET");
    CHECK(young->listed->at(-16, true)->abbreviation == "CEST");
    CHECK_FALSE(young->listed->at(2000, true));
    CHECK(young->listed->at(2000, false)->abbreviation == "CET");
}

// The C library reads the same files by code of its own (glibc, tzfile.c and tzset.c).
TEST_CASE("every zone of this machine reads as the C library reads it", "[site][published]") {
    const char* was = std::getenv("TZ");
    const std::string before = was != nullptr ? was : "";
    std::size_t zones = 0, apart = 0;
    std::string first;
    for (const std::string& name : zone_names()) {
        const auto zone = system_zones().find(name);
        if (!zone) continue;  // a link to a file that is none
        REQUIRE(*zone);
        ++zones;
        ::setenv("TZ", (":" + name).c_str(), 1);
        ::tzset();
        // 1905 to 2099, some three weeks apart, at changing hours.
        for (std::time_t t = -2051222400; t < 4102444800; t += 1871113) {
            auto here = (*zone)->listed->at(t, (*zone)->rule != nullptr);
            if (!here) here = (*zone)->rule->at(t);
            std::tm there{};
            ::localtime_r(&t, &there);
            const bool same = here->east_s == there.tm_gmtoff &&
                              here->abbreviation == there.tm_zone &&
                              here->daylight_saving == (there.tm_isdst > 0);
            if (!same && apart++ == 0)
                first = name + " at " + std::to_string(t) + ": " + here->abbreviation;
        }
    }
    was != nullptr ? ::setenv("TZ", before.c_str(), 1) : ::unsetenv("TZ");
    ::tzset();
    INFO(first);
    CHECK(zones > 400);
    CHECK(apart == 0);
}

TEST_CASE("zones packed into one file are found by name", "[site]") {
    const std::string cet_file =
        block('2', hour_east, cet) + block('2', hour_east, cet) + "\nCET-1\n";
    const std::string size = std::to_string(cet_file.size());
    const std::string archive = "2026f\nAfrica/Algiers 0 " + size + " +3647+00303\nCET 0 " + size +
                                "\nEurope/Nowhere 1 20\nEurope/Over 9999 20\n\n" + cet_file;
    const ZoneArchive zones{archive};
    CHECK(zones.is_there());
    CHECK(zones.version() == "2026f");
    CHECK(zones.names() == std::vector<std::string>{"Africa/Algiers", "CET", "Europe/Nowhere"});
    REQUIRE(zones.places().count("Africa/Algiers") == 1);
    CHECK(zones.places().at("Africa/Algiers").longitude_deg == Approx(3.05));
    const auto algiers = zones.find("Africa/Algiers");
    REQUIRE(algiers);
    REQUIRE(*algiers);
    CHECK((*algiers)->rule->at(0).east_s == 3600);
    CHECK_FALSE(*zones.find("Africa"));
    CHECK(zones.find("Europe/Nowhere").error() ==
          "has a file among this program's zones that does not begin with \"TZif\"");
    for (const char* none : {"", "2026f\n", "2026f\nCET 0 1\n"})
        CHECK_FALSE(ZoneArchive{none}.is_there());
    CHECK_FALSE(carried_zones().is_there());  // this program reads the machine's
}
