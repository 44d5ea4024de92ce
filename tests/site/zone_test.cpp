#include "keyhour/site/zone.hpp"

#include <catch2/catch.hpp>

#include "keyhour/site/dates.hpp"

using namespace keyhour::site;
using keyhour::Instant;
using keyhour::Seconds;

namespace {

Zone zone(const std::string& name) {
    const auto found = Zone::named(name);
    REQUIRE(found);
    return *found;
}

std::string refusal(const std::string& name) {
    const auto found = Zone::named(name);
    REQUIRE_FALSE(found);
    return found.error();
}

LocalDate day(const std::string& text) {
    return *read_date(text);
}

Instant utc(const std::string& text) {
    return *read_utc(text);
}

std::vector<std::string> changes(const std::string& name, const std::string& first,
                                 const std::string& last) {
    std::vector<std::string> lines;
    for (const ClockChange& c : clock_changes(zone(name), day(first), day(last)))
        lines.push_back(in_words(c));
    return lines;
}

}  // namespace

// Directive 2000/84/EC: the last Sundays of March and October, 01:00 UTC. From memory.
TEST_CASE("clocks of the European Union change at 01:00 UTC on two Sundays", "[site][published]") {
    for (const char* name : {"Europe/London", "Europe/Berlin", "Europe/Dublin", "Europe/Athens"}) {
        const Zone z = zone(name);
        const auto winter = z.at(utc("2026-03-29T00:59:59Z")).utc_offset;
        CHECK(z.at(utc("2026-03-29T01:00:00Z")).utc_offset == winter + std::chrono::hours{1});
        CHECK(z.at(utc("2026-10-25T00:59:59Z")).utc_offset == winter + std::chrono::hours{1});
        CHECK(z.at(utc("2026-10-25T01:00:00Z")).utc_offset == winter);
    }
    CHECK(changes("Europe/Berlin", "2026-01-01", "2026-12-31") ==
          std::vector<std::string>{
              "clocks go forward 1 hour on Sunday 29 March 2026 (UTC+01:00 to UTC+02:00)",
              "clocks go back 1 hour on Sunday 25 October 2026 (UTC+02:00 to UTC+01:00)"});
}

// Energy Policy Act of 2005, section 110: second Sunday of March, first Sunday of November, 2 a.m.
// From memory.
TEST_CASE("clocks of the United States change on 8 March and 1 November 2026",
          "[site][published]") {
    CHECK(changes("America/New_York", "2026-01-01", "2026-12-31") ==
          std::vector<std::string>{
              "clocks go forward 1 hour on Sunday 8 March 2026 (UTC-05:00 to UTC-04:00)",
              "clocks go back 1 hour on Sunday 1 November 2026 (UTC-04:00 to UTC-05:00)"});
    CHECK(iso_local(utc("2026-03-08T07:00:00Z"), zone("America/New_York")) ==
          "2026-03-08T03:00:00-04:00");
}

// Standard Time Act 1987 (New South Wales): first Sundays of April and October. From memory.
TEST_CASE("clocks of Sydney change on 5 April and 4 October 2026", "[site][published]") {
    CHECK(changes("Australia/Sydney", "2026-01-01", "2026-12-31") ==
          std::vector<std::string>{
              "clocks go back 1 hour on Sunday 5 April 2026 (UTC+11:00 to UTC+10:00)",
              "clocks go forward 1 hour on Sunday 4 October 2026 (UTC+10:00 to UTC+11:00)"});
}

TEST_CASE("summer time goes on after the last change that the zone file lists", "[site]") {
    // Debian's files list London's changes to 2037.
    const auto london = zone("Europe/London").at(utc("2038-07-01T12:00:00Z"));
    CHECK(london.utc_offset == std::chrono::hours{1});
    CHECK(london.abbreviation == "BST");
    CHECK(london.daylight_saving);
    CHECK(zone("Australia/Sydney").at(utc("2150-01-15T00:00:00Z")).utc_offset ==
          std::chrono::hours{11});
    // Greenland's rule changes the clocks at 22:00 on the eve of the last Sunday of March: "/-1".
    const Zone nuuk = zone("America/Nuuk");
    CHECK(nuuk.at(utc("2040-07-01T12:00:00Z")).utc_offset == std::chrono::hours{-1});
    CHECK(nuuk.at(utc("2040-01-01T12:00:00Z")).utc_offset == std::chrono::hours{-2});
    CHECK(zone("Asia/Kolkata").at(utc("2040-01-01T12:00:00Z")).utc_offset ==
          std::chrono::minutes{330});
}

TEST_CASE("POSIX TZ strings agree with the IANA zones they stand for", "[site]") {
    const auto [posix, iana] = GENERATE(table<const char*, const char*>({
        {"GMT0BST,M3.5.0/1,M10.5.0", "Europe/London"},
        {"CET-1CEST,M3.5.0,M10.5.0/3", "Europe/Berlin"},
        {"IST-1GMT0,M10.5.0,M3.5.0/1", "Europe/Dublin"},
        {"EST5EDT,M3.2.0,M11.1.0", "America/New_York"},
        {"AEST-10AEDT,M10.1.0,M4.1.0/3", "Australia/Sydney"},
        {"<+1030>-10:30<+11>-11,M10.1.0,M4.1.0", "Australia/Lord_Howe"},
        {"<-02>2<-01>,M3.5.0/-1,M10.5.0/0", "America/Nuuk"},
        {"<-04>4<-03>,M9.1.6/24,M4.1.6/24", "America/Santiago"},
        {"IST-2IDT,M3.4.4/26,M10.5.0", "Asia/Jerusalem"},
        {"<+0330>-3:30", "Asia/Tehran"},
        {"UTC0", "UTC"},
    }));
    const Zone by_rule = zone(posix), by_name = zone(iana);
    int differing = 0;
    for (Instant t = utc("2026-01-01T00:00:00Z"); t < utc("2031-01-01T00:00:00Z");
         t = t + Seconds{1800})
        if (by_rule.at(t).utc_offset != by_name.at(t).utc_offset) ++differing;
    INFO(posix);
    CHECK(differing == 0);
    CHECK(by_rule.name() == posix);
}

TEST_CASE("a repeated local time is a problem that names both readings", "[site]") {
    const auto found = zone("Europe/London").instant(*read_local_time("2026-10-25T01:30"));
    REQUIRE_FALSE(found);
    CHECK(found.error().kind == ClockProblem::Kind::repeated);
    CHECK(found.error().message ==
          "2026-10-25T01:30:00 happens twice in Europe/London, as the clocks go back: at "
          "2026-10-25T00:30:00Z (UTC+01:00) and at 2026-10-25T01:30:00Z (UTC+00:00); say which, "
          "with +01:00 or +00:00 behind the time");
}

TEST_CASE("a skipped local time is a problem that names both readings", "[site]") {
    for (const char* name : {"Europe/London", "GMT0BST,M3.5.0/1,M10.5.0"}) {
        const auto found = zone(name).instant(*read_local_time("2026-03-29T01:30"));
        REQUIRE_FALSE(found);
        CHECK(found.error().kind == ClockProblem::Kind::skipped);
        CHECK(found.error().message ==
              "2026-03-29T01:30:00 does not exist in " + std::string{name} +
                  ", as the clocks go forward: by the offset before (UTC+00:00) it reads "
                  "2026-03-29T02:30:00+01:00, by the offset after (UTC+01:00) "
                  "2026-03-29T00:30:00+00:00");
    }
}

TEST_CASE("local times beside a change have one instant", "[site]") {
    const Zone london = zone("Europe/London");
    const auto instant = [&](const char* text) {
        return iso_utc(*london.instant(*read_local_time(text)));
    };
    CHECK(instant("2026-03-29T00:59:59") == "2026-03-29T00:59:59Z");
    CHECK(instant("2026-03-29T02:00") == "2026-03-29T01:00:00Z");
    CHECK(instant("2026-10-25T00:59:59") == "2026-10-24T23:59:59Z");
    CHECK(instant("2026-10-25T02:00") == "2026-10-25T02:00:00Z");
    CHECK(instant("2045-07-01T12:00") == "2045-07-01T11:00:00Z");
}

TEST_CASE("a date starts at midnight, or where a skipped midnight ends", "[site]") {
    CHECK(iso_utc(zone("Europe/London").start_of(day("2026-07-01"))) == "2026-06-30T23:00:00Z");
    // Lebanon's clocks go forward at 00:00, to 01:00 (tz database, Rule Lebanon: last Sunday of
    // March at 0:00).
    CHECK(iso_local(zone("Asia/Beirut").start_of(day("2026-03-29")), zone("Asia/Beirut")) ==
          "2026-03-29T01:00:00+03:00");
    // Samoa left out 2011-12-30 (tz database, zone Pacific/Apia).
    const Zone apia = zone("Pacific/Apia");
    CHECK(apia.start_of(day("2011-12-30")) == apia.start_of(day("2011-12-31")));
    CHECK(iso_local(apia.start_of(day("2011-12-31")), apia) == "2011-12-31T00:00:00+14:00");
    // Havana's clocks go back at 01:00, to 00:00: the first of two midnights starts the date.
    CHECK(iso_utc(zone("America/Havana").start_of(day("2026-11-01"))) == "2026-11-01T04:00:00Z");
}

TEST_CASE("a zone that is not known suggests the nearest", "[site]") {
    const auto [text, nearest] = GENERATE(table<const char*, const char*>({
        {"Europe/Londn", "Europe/London"},
        {"europe/london", "Europe/London"},
        {"London", "Europe/London"},
        {"America/New York", "America/New_York"},
        {"New york", "America/New_York"},
        {"Europe/Pris", "Europe/Paris"},
        {"Asia/Sydney", "Australia/Sydney"},
    }));
    CHECK(refusal(text) == std::string{"time zone \""} + text + "\" is not known; did you mean \"" +
                               nearest +
                               "\"?; accepted: an IANA name such as \"Europe/London\", or a POSIX "
                               "TZ string such as \"GMT0BST,M3.5.0/1,M10.5.0\"");
}

TEST_CASE("what is no zone says why", "[site]") {
    const auto [text, why] = GENERATE(table<const char*, const char*>({
        {"", "is empty"},
        {"BST", "is not known; accepted"},
        {"Narnia/Nowhere-land", "is not known; accepted"},
        {"../../etc/passwd", "is not known; accepted"},
        {"Europe/", "is not known"},
        {"Europe", "is not known"},
        {"zone1970.tab", "\"zone1970.tab\" is"},
        {"CET-1CEST,M13.5.0,M10.5.0", "expected a month 1 to 12 at character 12, found \"13.5.0"},
        {"CET-1CEST,M3.6.0,M10.5.0", "expected a week 1 to 5 at character 14"},
        {"CET-1CEST,M3.5.7,M10.5.0", "expected a weekday 0 to 6 at character 16"},
        {"CET-1CEST,M3.5.0", "expected \",\" and a day of change at character 17 (the string ends"},
        {"CET-1CEST", "expected the rule that says when summer time starts and ends"},
        {"CET-25", "expected hours 0 to 24 at character 5"},
        {"CE-1", "expected a name of three letters or more"},
        {"<+03-3", "expected \">\" to close the name"},
        {"CET-1CEST,J0,J300", "expected a day 1 to 365"},
        {"CET-1CEST,M3.5.0/168,M10.5.0", "expected hours 0 to 167"},
        {"CET-1CEST,M3.5.0,M10.5.0/3 ", "expected the end of the string"},
        {":Europe/London", "is not known; did you mean \"Europe/London\"?"},
        {"\x1b[31mUTC", "is no name of printable ASCII letters"},
    }));
    const std::string message = refusal(text);
    INFO(message);
    CHECK(message.find(why) != std::string::npos);
    CHECK(message.find("accepted: an IANA name") != std::string::npos);
    for (const char c : message)
        CHECK(static_cast<unsigned char>(c) >= 0x20);
}

TEST_CASE("UTC+1 is refused, as POSIX counts west and people count east", "[site]") {
    const std::string message = refusal("UTC+1");
    CHECK(message.find("is two zones: as a POSIX TZ string it is UTC-01:00, as people write it "
                       "UTC+01:00; write \"<-01>+01:00\" for UTC-01:00 or \"<+01>-01:00\" for "
                       "UTC+01:00") != std::string::npos);
    CHECK(zone("<+01>-01:00").at(utc("2026-03-10T00:00:00Z")).utc_offset == std::chrono::hours{1});
    CHECK(zone("<-01>+01:00").at(utc("2026-03-10T00:00:00Z")).utc_offset == std::chrono::hours{-1});
    CHECK(refusal("GMT-5:30").find("is two zones") != std::string::npos);
    CHECK(zone("GMT+0").at(utc("2026-07-01T00:00:00Z")).utc_offset == std::chrono::hours{0});
}

TEST_CASE("a zone made of nothing is UTC", "[site]") {
    const Zone z;
    CHECK(z.name() == "UTC");
    CHECK(z.at(utc("2026-07-01T00:00:00.75Z")).local == *read_local_time("2026-07-01T00:00"));
    CHECK(z.at(Instant::from_unix_s(-0.5)).local == *read_local_time("1969-12-31T23:59:59"));
    CHECK(z.at(utc("2026-07-01T00:00:00Z")).abbreviation == "UTC");
}
