// Said once: terminal, message, JSON, page, calendar and spreadsheet give one minute, one size and
// one level for the same key and the same lock.

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

std::string nearest_clocks(const study::Span& s, const site::Zone& zone) {
    return words::clock_span(words::nearest_minute(s.from), words::nearest_minute(s.to), zone);
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

const Place places[] = {
    {example("tallow-lane"), "2026-02-17", "Europe/London", *site::Zone::named("Europe/London")},
    {example("flax-road"), "2026-06-10", "Pacific/Auckland",
     *site::Zone::named("Pacific/Auckland")}};

}  // namespace

TEST_CASE("one key has one start, end, length and level in every output", "[cli][one]") {
    for (const Place& place : places) {
        const auto key = nlohmann::json::parse(place.answer({"key"}, {"--json"}))["intervals"][0];
        const study::Span span = span_of(key["start_utc"], key["end_utc"]);
        const std::string clocks = nearest_clocks(span, place.zone),
                          length = words::in_minutes(words::clock_length(span));
        const std::string sure =
            "sure " + words::clock_inward(span_of(key["sure"][0], key["sure"][1]), place.zone);
        const std::string level = words::level_range(key["level_lx"]["at_start"].get<double>(),
                                                     key["level_lx"]["at_end"].get<double>()) +
                                  " at the mark";
        const std::string held =
            words::at_least(Seconds{60 * key["hold_90_min"].get<double>()}) + " or more in 9 of 10";
        CAPTURE(place.file, clocks, length, sure, level, held);

        const std::string terminal = flat(place.answer({"key"}));
        for (const std::string& fact :
             {"clean key " + clocks + " (" + length + ")", sure, level, held})
            CHECK(holds(terminal, fact));
        const std::string message = place.answer({"key", "--line"});
        CHECK(message.starts_with("key " + clocks + " "));
        CHECK(holds(message, ", " + sure));
        const std::string page = place.paper("page");
        for (const std::string& fact : {clocks, length, sure, level, held})
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
        const std::string terminal = flat(place.answer(lock)), page = place.paper("page"),
                          calendar = plain_calendar(place.paper("calendar")),
                          message = place.answer(lock, {"--line"});
        for (const auto& cover : covers) {
            const std::string window = cover["window"];
            const std::string size =
                words::size(cover["width_m"].get<double>(), cover["height_m"].get<double>(),
                            site::Units::metres);
            const Instant needed = utc(cover["needed_by_at_any_bearing_utc"]);
            // What is needed from the lock's first minute has that of the key's start.
            const std::string by = words::minute_down(needed, place.zone);
            CAPTURE(place.file, window, size, by);
            CHECK(holds(terminal, window + ", " + size + ", by " + by));
            // As many as fit.
            CHECK((holds(message, window + " by " + by) || holds(message, " more\n")));
            CHECK(holds(page, size.substr(0, size.size() - 2)));
            const std::string entry = event(calendar, "Hang " + window);
            CHECK(holds(entry, "opening " + size));
            CHECK(holds(entry, "hang by " + by));
            CHECK(holds(page, by));
        }
    }
}
