#include "keyhour/site/dates.hpp"

#include <catch2/catch.hpp>

using namespace keyhour::site;
using keyhour::Instant;

TEST_CASE("a date may be typed as the answers print it, its month in letters", "[site]") {
    const char* text =
        GENERATE("17 February 2026", "Tue 17 February 2026", "Tuesday 17 February 2026",
                 "Tuesday, 17 Feb 2026", "TUE 17 FEB 2026", "Tu 2026-02-17", "Tue 2026-02-17");
    INFO(text);
    const auto read = read_date(text);
    REQUIRE(read);
    CHECK(iso_date(*read) == "2026-02-17");
    CHECK(iso_date(*read_date("Sun 1 May 2033")) == "2033-05-01");
}

TEST_CASE("a date in letters must have its own weekday, and be one", "[site]") {
    CHECK(read_date("Wed 17 February 2026").error() ==
          "\"Wed 17 February 2026\" is no Wednesday: 2026-02-17 is a Tuesday");
    CHECK(read_date("Th 2026-02-17").error() ==
          "\"Th 2026-02-17\" is no Thursday: 2026-02-17 is a Tuesday");
    CHECK(read_date("30 February 2026").error() ==
          "\"30 February 2026\" does not exist: February 2026 has 28 days");
    for (const char* text : {"17 Fe 2026", "17 February 26", "17 February", "Ju 17 February 2026"})
        CHECK_FALSE(read_date(text));
}

TEST_CASE("dates in numbers are read in ISO 8601 alone, and others are told why not", "[site]") {
    const auto [text, message] = GENERATE(table<const char*, const char*>({
        {"03/04/2026",
         "\"03/04/2026\" is two dates: 3 April and 4 March; write 2026-04-03 or 2026-03-04"},
        {"3.4.26", "\"3.4.26\" is two dates: 3 April and 4 March; write 2026-04-03 or 2026-03-04"},
        {"13/04/2026", "\"13/04/2026\" has the year last; write 2026-04-13"},
        {"04-13-2026", "\"04-13-2026\" has the year last; write 2026-04-13"},
        {"04/04/2026", "\"04/04/2026\" has the year last; write 2026-04-04"},
        {"31/31/2026",
         "\"31/31/2026\" is no date; write the date as YYYY-MM-DD, such as 2026-03-10"},
        {"2026-02-30", "\"2026-02-30\" does not exist: February 2026 has 28 days"},
        {"2027-02-29", "\"2027-02-29\" does not exist: February 2027 has 28 days"},
        {"2026-13-01",
         "\"2026-13-01\": there is no month 13; write the date as YYYY-MM-DD, such as 2026-03-10"},
        {"2026-00-01",
         "\"2026-00-01\": there is no month 0; write the date as YYYY-MM-DD, such as 2026-03-10"},
        {"9999-01-01",
         "\"9999-01-01\": the year 9999 is not served; accepted: 1800-01-02 to 2199-12-30"},
        {"1799-12-31",
         "\"1799-12-31\": the year 1799 is not served; accepted: 1800-01-02 to 2199-12-30"},
        {"2199-12-31", "\"2199-12-31\" is not served; accepted: 1800-01-02 to 2199-12-30"},
        {"2026-3-10", "\"2026-3-10\" lacks a leading zero; write 2026-03-10"},
        {"2026-03-10T15:00",
         "\"2026-03-10T15:00\" has more than a date; write the date as YYYY-MM-DD, such as "
         "2026-03-10"},
        {"tomorrow", "\"tomorrow\" is no date; write the date as YYYY-MM-DD, such as 2026-03-10"},
        {"", "\"\" is no date; write the date as YYYY-MM-DD, such as 2026-03-10"},
        {"20260310", "\"20260310\" is no date; write the date as YYYY-MM-DD, such as 2026-03-10"},
    }));
    const auto found = read_date(text);
    REQUIRE_FALSE(found);
    CHECK(found.error() == message);
}

TEST_CASE("a date that exists is read", "[site]") {
    CHECK(iso_date(*read_date("2026-03-10")) == "2026-03-10");
    CHECK(iso_date(*read_date("2028-02-29")) == "2028-02-29");
    CHECK(date_in_words(*read_date("2026-03-10")) == "Tuesday 10 March 2026");
    CHECK(iso_date(next_day(*read_date("2027-02-28"))) == "2027-03-01");
}

TEST_CASE("times are of the 24-hour clock", "[site]") {
    CHECK(read_time_of_day("15:20")->count() == 15 * 3600 + 20 * 60);
    CHECK(read_time_of_day("00:00:59")->count() == 59);
    const auto [text, message] = GENERATE(table<const char*, const char*>({
        {"3:20", "\"3:20\" may be morning or afternoon; write 03:20 or 15:20"},
        {"0:20", "\"0:20\" is short of a digit; write 00:20"},
        {"3:20 pm",
         "\"3:20 pm\" is of the 12-hour clock; write the time as HH:MM in 24 hours, "
         "such as 15:20"},
        {"24:00",
         "\"24:00\" is 00:00 of the next date; write the time as HH:MM in 24 hours, such "
         "as 15:20"},
        {"25:00", "\"25:00\" has hours 25; write the time as HH:MM in 24 hours, such as 15:20"},
        {"15:60", "\"15:60\" has minutes 60; write the time as HH:MM in 24 hours, such as 15:20"},
        {"15:20:60",
         "\"15:20:60\" has seconds 60; write the time as HH:MM in 24 hours, such as 15:20"},
        {"15.20", "\"15.20\" is no time; write the time as HH:MM in 24 hours, such as 15:20"},
        {"1520", "\"1520\" is no time; write the time as HH:MM in 24 hours, such as 15:20"},
        {"15:20Z",
         "\"15:20Z\" has more than a time; write the time as HH:MM in 24 hours, such as 15:20"},
    }));
    const auto found = read_time_of_day(text);
    REQUIRE_FALSE(found);
    CHECK(found.error() == message);
}

TEST_CASE("instants are read and written as UTC", "[site]") {
    CHECK(read_utc("1970-01-01T00:00:00Z")->unix_s() == 0);
    CHECK(read_utc("2026-03-10T15:03:12.25Z")->unix_s() == 1773154992.25);
    CHECK(read_utc("2026-03-10 15:03")->unix_s() == 1773154980);
    CHECK(read_utc("2026-03-10T15:03:12+01:00").error().find("write UTC, ending in Z") !=
          std::string::npos);
    CHECK(iso_utc(Instant::from_unix_s(1773154992.25)) == "2026-03-10T15:03:12Z");
    CHECK(iso_utc(Instant::from_unix_s(1773154992.25), 3) == "2026-03-10T15:03:12.250Z");
    CHECK(iso_utc(Instant::from_unix_s(1773154991.9999), 3) == "2026-03-10T15:03:12.000Z");
    CHECK(iso_utc(Instant::from_unix_s(-0.25), 2) == "1969-12-31T23:59:59.75Z");
}

TEST_CASE("local times carry their offset", "[site]") {
    const Zone kolkata = *Zone::named("Asia/Kolkata");
    CHECK(iso_local(*read_utc("2026-03-10T15:03:12Z"), kolkata) == "2026-03-10T20:33:12+05:30");
    CHECK(iso_local(*read_utc("2026-03-10T15:03:12Z"), *Zone::named("America/St_Johns"), 1) ==
          "2026-03-10T12:33:12.0-02:30");
    // Before 1880 London kept the mean time of a place 1 min 15 s west (tz database, zone
    // Europe/London).
    CHECK(iso_local(*read_utc("1840-03-10T12:00:00Z"), *Zone::named("Europe/London")) ==
          "1840-03-10T11:58:45-00:01:15");
}

TEST_CASE("people see the nearest whole minute, never one of another date", "[site]") {
    const Zone utc;
    CHECK(whole_minutes(*read_utc("2026-03-10T15:03:29Z"), utc) == "15:03");
    CHECK(whole_minutes(*read_utc("2026-03-10T15:03:31Z"), utc) == "15:04");
    CHECK(whole_minutes(*read_utc("2026-03-10T23:59:45Z"), utc) == "23:59");
}
