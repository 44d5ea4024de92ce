// Said once: terminal, message, JSON, page, calendar and spreadsheet give one minute, one size and
// one level for the same key and the same lock.

#include <unistd.h>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <regex>

#include "keyhour/site/dates.hpp"
#include "keyhour/site/zone.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "scratch_file.hpp"
#include "words/clock.hpp"
#include "words/length.hpp"
#include "words/levels.hpp"

using namespace keyhour;

namespace {

using Words = std::vector<std::string>;

std::string output(const Words& words) {
    const Outcome o = run_program(words);
    CAPTURE(words, o.err);
    REQUIRE(o.code == 0);
    return o.out;
}

/// Unfolded (RFC 5545, 3.1) and without its escapes.
std::string plain_calendar(std::string text) {
    text = std::regex_replace(text, std::regex{"\r\n "}, "");
    return std::regex_replace(text, std::regex{R"(\\([,;]))"}, "$1");
}

/// The event with this summary, from BEGIN to END.
std::string event(const std::string& calendar, const std::string& summary) {
    const std::size_t at = calendar.find("SUMMARY:" + summary);
    REQUIRE(at != std::string::npos);
    const std::size_t begin = calendar.rfind("BEGIN:VEVENT", at);
    return calendar.substr(begin, calendar.find("END:VEVENT", at) - begin);
}

Instant utc(const nlohmann::json& text) {
    return *site::read_utc(text.get<std::string>());
}

study::Span span_of(const nlohmann::json& from, const nlohmann::json& to) {
    return {utc(from), utc(to), false, false};
}

/// The words of a page, without its tags.
std::string plain_page(const std::string& page) {
    std::string text;
    bool in_tag = false;
    for (const char c : page) {
        if (c == '<') in_tag = true;
        if (!in_tag) text += c;
        if (c == '>') in_tag = false;
    }
    return text;
}

/// "20260217T125800" of a local time "12:58" of the date.
std::string calendar_time(std::string date, const std::string& clock) {
    std::erase(date, '-');
    return date + "T" + clock.substr(0, 2) + clock.substr(3, 2) + "00";
}

struct Place {
    std::string file, date, zone_name;
    site::Zone zone;

    std::string answer(Words words, const Words& more = {}) const {
        words.insert(words.begin() + 1, {file, "--date", date});
        words.insert(words.end(), more.begin(), more.end());
        return output(words);
    }
    std::string paper(const char* kind) const {
        return answer({"sheet", "--only", kind, "-o", "-"});
    }
};

/// With what the recce found of its light: every level is another one, and the same in all outputs.
/// Each of these tests runs in a process of its own, beside the others.
const ScratchFile with_found_light{
    ("keyhour-one-answer-found-" + std::to_string(::getpid()) + ".toml").c_str(),
    example_text("tallow-lane") +
        "\n[[meter]]\nmark = \"type case\"\ntime = 2026-02-17T13:30:00\nsky = \"clear\"\n"
        "lux = 45000\n"
        "\n[[forge]]\nname = \"hearth\"\nat = [5, 4]\nheight_m = 0.9\ntoward = [2.3, 1.8]\n"
        "opening_width_m = 0.5\nopening_height_m = 0.3\nat_m = 2\nlux = 320\n"};

const Place places[] = {
    {with_found_light.path, "2026-02-17", "Europe/London", *site::Zone::named("Europe/London")},
    {example("tallow-lane"), "2026-02-17", "Europe/London", *site::Zone::named("Europe/London")},
    {example("flax-road"), "2026-06-10", "Pacific/Auckland",
     *site::Zone::named("Pacific/Auckland")}};

}  // namespace

namespace {

/// What every output says of a key.
struct KeyFacts {
    study::Span span;
    std::string clocks, length, sure, level, held, lit;
};

KeyFacts facts_of(const nlohmann::json& key, const site::Zone& zone) {
    const auto over_airs = [&](const char* end) {
        const auto& lx = key["level_lx"];
        return light::Band{lx["low"].get<double>(), lx[end].get<double>(),
                           lx["high"].get<double>()};
    };
    const auto inward = [&](const nlohmann::json& ends) {
        return words::clock_inward(span_of(ends[0], ends[1]), zone);
    };
    KeyFacts f;
    f.span = span_of(key["start_utc"], key["end_utc"]);
    f.clocks = words::clock_inward(f.span, zone);
    f.length = words::in_minutes(words::promised_length(f.span));
    f.sure = "any bearing " + inward(key["sure"]);
    f.level = words::level_range(over_airs("at_start"), over_airs("at_end")) + " at the mark";
    f.held =
        words::at_least(Seconds{60 * key["hold_90_min"].get<double>()}) + " or more in 9 of 10";
    f.lit = "lit " + inward(key["lit_90_utc"]);
    return f;
}

}  // namespace

TEST_CASE("one key has one start, end, length and level in every output", "[cli][one]") {
    for (const Place& place : places) {
        const auto key = nlohmann::json::parse(place.answer({"key"}, {"--json"}))["intervals"][0];
        const auto [span, clocks, length, sure, level, held, lit] = facts_of(key, place.zone);
        CAPTURE(place.file, clocks, length, sure, level, held, lit);

        const std::string terminal = flat(place.answer({"key"}));
        for (const std::string& fact :
             {"clean key " + clocks + " (" + length + ")", sure, level, lit})
            CHECK(holds(terminal, fact));
        const std::string message = place.answer({"key", "--line"});
        CHECK(message.starts_with("key " + clocks + " "));
        CHECK(holds(message, ", " + sure));
        const std::string page = place.paper("page");
        for (const std::string& fact : {clocks, length, sure, level, held, lit})
            CHECK(holds(page, fact));

        const std::string entry = event(plain_calendar(place.paper("calendar")), "Key: ");
        CHECK(holds(entry, "DTSTART;TZID=" + place.zone_name + ":" +
                               calendar_time(place.date, clocks.substr(0, 5))));
        CHECK(holds(entry, "DTEND;TZID=" + place.zone_name + ":" +
                               calendar_time(place.date, clocks.substr(9, 5))));
        CHECK(holds(entry, sure));
        CHECK(holds(entry, held));

        const std::string cells = place.paper("spreadsheet");
        CHECK(holds(cells, site::iso_utc(span.from) + "," + site::iso_utc(span.to)));
        CHECK(holds(cells, sure));
    }
}

TEST_CASE("one cloth has one size and one minute in every output", "[cli][one]") {
    for (const Place& place : places) {
        const auto key = nlohmann::json::parse(place.answer({"key"}, {"--json"}))["intervals"][0];
        // The sheet's lock is the best key, its window open.
        const std::string from = key["start_local"].get<std::string>().substr(11, 5);
        const auto to = words::nearest_minute(utc(key["end_utc"]));
        const Words lock{"lock",
                         "--start",
                         from,
                         "--end",
                         site::whole_minutes(to, place.zone),
                         "--key-window",
                         key["window"].get<std::string>()};
        const auto covers = nlohmann::json::parse(place.answer(lock, {"--json"}))["covers"];
        REQUIRE_FALSE(covers.empty());
        const std::string terminal = flat(place.answer(lock)),
                          page = plain_page(place.paper("page")),
                          calendar = plain_calendar(place.paper("calendar")),
                          message = place.answer(lock, {"--line"});
        for (const auto& cover : covers) {
            const std::string window = cover["window"];
            const auto size_of = [&](const char* width, const char* height) {
                return words::size(cover[width].get<double>(), cover[height].get<double>(),
                                   site::Units::metres, words::Rounding::up);
            };
            const std::string opening = size_of("width_m", "height_m"),
                              cloth = size_of("cloth_width_m", "cloth_height_m");
            const Instant needed = utc(cover["needed_by_at_any_bearing_utc"]);
            // What is needed from the lock's first minute has that of the key's start.
            const std::string by = words::minute_down(needed, place.zone);
            CAPTURE(place.file, window, opening, cloth, by);
            CHECK(holds(terminal, window + ", cloth " + cloth + ", by " + by));
            // As many as fit.
            CHECK((holds(message, window + " by " + by) || holds(message, " more\n")));
            CHECK(holds(page, opening));
            CHECK(holds(page, cloth));
            const std::string entry = event(calendar, "Hang " + window);
            CHECK(holds(entry, "cloth " + cloth));
            CHECK(holds(entry, "opening " + opening));
            CHECK(holds(entry, "hang by " + by));
            CHECK(holds(page, by));
        }
    }
}

TEST_CASE("one place outside has one span and one latest start in every output", "[cli][one]") {
    std::size_t told = 0;
    for (const Place& place : places) {
        const auto spot = nlohmann::json::parse(place.answer({"exterior"}, {"--json"}))["spots"][0];
        const std::string terminal = flat(place.answer({"exterior"})),
                          message = place.answer({"exterior"}, {"--line"}),
                          page = place.paper("page"),
                          calendar = plain_calendar(place.paper("calendar")),
                          cells = place.paper("spreadsheet");
        for (const auto& direct : spot["direct"]) {
            const study::Span span = span_of(direct["start_utc"], direct["end_utc"]);
            const std::string clocks = words::clock_inward(span, place.zone);
            CAPTURE(place.file, clocks);
            CHECK(holds(terminal, "direct light " + clocks + ", begins by "));
            CHECK(holds(page, clocks));
            CHECK(holds(cells, site::iso_utc(span.from) + "," + site::iso_utc(span.to)));
            ++told;
        }
        for (const auto& start : spot["wanted"]) {
            if (start["latest_start_utc"].is_null()) continue;
            const std::string by = words::minute_down(utc(start["latest_start_utc"]), place.zone);
            CAPTURE(place.file, by);
            CHECK(holds(terminal, "set up by " + by));
            CHECK(holds(message, "set up by " + by));
            CHECK(holds(page, "set up by " + by));
            CHECK(holds(calendar, "set up by " + by));
            CHECK(holds(cells, "set up by " + by));
            ++told;
        }
    }
    CHECK(told >= 4);
}

TEST_CASE("one day has one rise, one set and one length in terminal, message and JSON",
          "[cli][one]") {
    for (const Place& place : places) {
        const auto json = nlohmann::json::parse(place.answer({"day"}, {"--json"}));
        Instant rise, set;
        for (const auto& event : json["events"]) {
            if (event["kind"] == "rise") rise = utc(event["utc"]);
            if (event["kind"] == "set") set = utc(event["utc"]);
        }
        const study::Span day{rise, set, false, false};
        const std::string told = "rise " + site::whole_minutes(rise, place.zone) + ", set " +
                                 site::whole_minutes(set, place.zone);
        CAPTURE(place.file, told);
        CHECK(holds(place.answer({"day"}),
                    told + ": the day has " + words::in_minutes(words::clock_length(day)) + "\n"));
        CHECK(place.answer({"day"}, {"--line"}).starts_with(told + " "));
        // The clocks' difference, to the minute.
        const auto minutes = [](const std::string& clock) {
            return 60 * std::stoi(clock.substr(0, 2)) + std::stoi(clock.substr(3, 2));
        };
        CHECK(words::clock_length(day).count() / 60 ==
              minutes(site::whole_minutes(set, place.zone)) -
                  minutes(site::whole_minutes(rise, place.zone)));
    }
}

TEST_CASE("one patch has one size and one level in terminal and JSON, in metres and feet",
          "[cli][one]") {
    const Place& place = places[0];
    const Words at{"--time", "13:30"};
    const auto now = nlohmann::json::parse(
        place.answer({"patch"}, {"--time", "13:30", "--json"}))["instants"][0];
    const std::string metres = flat(place.answer({"patch"}, at)),
                      feet = flat(place.answer({"patch"}, {"--time", "13:30", "--units", "ft"}));
    REQUIRE(now["patches"].size() >= 2);
    for (const auto& patch : now["patches"]) {
        const std::string head = patch["surface"].get<std::string>() + " through " +
                                 patch["window"].get<std::string>() + ": ";
        const double area = patch["area_m2"];
        const std::string level = "; " + words::level(patch["level_lx"].get<double>());
        CAPTURE(head, area, level);
        CHECK(holds(metres, head + words::area(area, site::Units::metres)));
        CHECK(holds(feet, head + words::area(area, site::Units::feet)));
        CHECK(holds(metres, level));
        CHECK(holds(feet, level));
    }
    // No metre is left where feet are read.
    CHECK_FALSE(holds(feet, " m2"));
    CHECK_FALSE(holds(feet, " cm"));
    CHECK_FALSE(holds(feet, " m "));
}
