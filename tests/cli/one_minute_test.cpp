// One rule of rounding: what must hold inward, what must be covered outward, starts to the safe
// side; and so one minute for one instant, whichever output tells it.

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <regex>

#include "examples.hpp"
#include "keyhour/site/dates.hpp"
#include "page.hpp"
#include "read/location_file.hpp"
#include "run_program.hpp"
#include "scratch_file.hpp"
#include "scratch_folder.hpp"

namespace {

using keyhour::Instant;
using nlohmann::json;
using Words = std::vector<std::string>;
namespace site = keyhour::site;

/// An example moved: its position, its zone, and which way its wall faces.
struct Moved {
    const char *example, *position, *zone, *faces, *date;
};

// Both hemispheres, the equator, high latitudes, three days on which clocks change, a zone of
// quarter hours.
constexpr Moved places[] = {
    {"tallow-lane", nullptr, nullptr, nullptr, "2026-02-14"},
    {"tallow-lane", nullptr, nullptr, nullptr, "2026-03-29"},
    {"tallow-lane", nullptr, nullptr, "201", "2026-10-25"},
    {"tallow-lane", "41.3S 174.8E", "Pacific/Auckland", "16", "2026-06-10"},
    {"tallow-lane", "69.65N 18.96E", "Europe/Oslo", "230", "2026-04-20"},
    {"tallow-lane", "1.2S 36.8E", "Africa/Nairobi", "100", "2026-12-01"},
    {"flax-road", nullptr, nullptr, nullptr, "2026-05-14"},
    {"flax-road", nullptr, nullptr, nullptr, "2026-04-05"},
    {"flax-road", "27.7N 85.3E", "Asia/Kathmandu", "170", "2026-11-11"},
    {"sundet", nullptr, nullptr, nullptr, "2026-09-10"},
};

/// The string or number behind `key = ` replaced.
std::string with(std::string text, const std::string& key, const char* value, bool quoted) {
    if (value == nullptr) return text;
    const std::string mark = quoted ? "\"" : "";
    const std::regex before{key + " = " + mark + (quoted ? "(?:\\\\\"|[^\"])*\"" : "[-0-9.]+")};
    REQUIRE(std::regex_search(text, before));
    return std::regex_replace(text, before, key + " = " + mark + value + mark,
                              std::regex_constants::format_first_only);
}

std::string text_of(const Moved& place) {
    std::string text = with(example_text(place.example), "\nposition", place.position, true);
    text = with(text, "\ntime_zone", place.zone, true);
    return with(text, "faces", place.faces, false);
}

std::string out_of(Words words) {
    const Outcome o = run_program(words);
    CAPTURE(words, o.err);
    REQUIRE(o.code == 0);
    return o.out;
}

Instant utc(const json& text) {
    return *site::read_utc(text.get<std::string>());
}

/// The clock's minutes, by arithmetic of the test's own.
class Clock {
public:
    explicit Clock(const site::Zone& zone) : zone_{zone} {}
    [[nodiscard]] std::string down(Instant t) const { return at(std::floor(t.unix_s() / 60)); }
    [[nodiscard]] std::string up(Instant t) const { return at(std::ceil(t.unix_s() / 60)); }
    [[nodiscard]] std::string nearest(Instant t) const { return at(std::round(t.unix_s() / 60)); }
    [[nodiscard]] std::string inward(const json& span) const {
        return up(utc(span["start_utc"])) + " to " + down(utc(span["end_utc"]));
    }
    [[nodiscard]] std::string outward(const json& span) const {
        return down(utc(span["start_utc"])) + " to " + up(utc(span["end_utc"]));
    }

private:
    [[nodiscard]] std::string at(double minute) const {
        const double s = 60 * minute;
        const auto offset = zone_.at(Instant::from_unix_s(s)).utc_offset.count();
        const long of_day = (std::lround(s) + static_cast<long>(offset)) / 60 % 1440;
        const auto two = [](long n) { return std::string{n < 10 ? "0" : ""} + std::to_string(n); };
        return two(of_day / 60) + ":" + two(of_day % 60);
    }
    const site::Zone& zone_;
};

bool is_longer_than_a_minute(const json& span) {
    return std::floor(utc(span["end_utc"]).unix_s() / 60) >
           std::ceil(utc(span["start_utc"]).unix_s() / 60);
}

/// Wherever a span stands with its length, that is what its ends say, at a change of clocks give or
/// take the hour. @return how many
int check_lengths(const std::string& text) {
    static const std::regex told{
        "(\\d\\d):(\\d\\d) to (\\d\\d):(\\d\\d)(?: on [A-Z][a-z]+ \\d+ [A-Z][a-z]+ \\d+)? "
        "\\((?:(\\d+) h )?(\\d+) min\\)"};
    int found = 0;
    for (std::sregex_iterator it{text.begin(), text.end(), told}, end; it != end; ++it, ++found) {
        const auto n = [&](int i) { return (*it)[i].matched ? std::stoi((*it)[i]) : 0; };
        const int ends = (60 * n(3) + n(4) - 60 * n(1) - n(2) + 1440) % 1440;
        const int off = std::abs(60 * n(5) + n(6) - ends);
        CAPTURE(it->str());
        CHECK((off == 0 || off == 60));
    }
    return found;
}

/// All outputs of one place on one date.
struct Told {
    std::string exterior, day, key, page, calendar, sheet_csv;
    std::string batch_exterior, batch_day;
    json spots, day_json, key_json;
};

Told ask(const std::string& path, const char* date, bool room) {
    const ScratchFolder folder{"keyhour_one_minute"};
    const Words on{"--date", date};
    const auto one = [&](Words words) {
        words.insert(words.end(), on.begin(), on.end());
        return out_of(words);
    };
    Told t;
    t.exterior = flat(one({"exterior", path}));
    t.spots = json::parse(one({"exterior", path, "--json"}))["spots"];
    t.batch_exterior = flat(one({"batch", path, "--ask", "exterior"}));
    t.batch_day = flat(one({"batch", path, "--ask", "day"}));
    t.day = flat(one({"day", path, "--show", "hours"}));
    t.day_json = json::parse(one({"day", path, "--json"}));
    if (room) {
        t.key = flat(one({"key", path}));
        t.key_json = json::parse(one({"key", path, "--json"}));
    }
    out_of({"sheet", path, "--date", date, "--only", "page", "--only", "calendar", "--only",
            "spreadsheet", "--out", (folder.path / "sheet").string()});
    const std::filesystem::path made = folder.path / "sheet";
    t.page = examples::contents(made / "sheet.html");
    t.calendar = examples::contents(made / "sheet.ics");
    t.sheet_csv = examples::contents(made / "sheet.csv");
    return t;
}

/// "160400": of a calendar's local time.
std::string in_calendar(std::string clock) {
    clock.erase(2, 1);
    return "T" + clock + "00";
}

/// The spreadsheet has the instants themselves, to the second.
std::string in_csv(const json& instant) {
    return site::iso_utc(utc(instant));
}

/// "16:31-17:42"
std::string in_row(std::string inward) {
    return inward.replace(5, 4, "-");
}

void check_late_light(const json& light, const Told& t, const Clock& clock,
                      const std::string& page) {
    CHECK(holds(page, "evening " + clock.inward(light)));
    CHECK(holds(t.page, clock.inward(light)));
    CHECK(holds(t.batch_exterior, in_row(clock.inward(light))));
    if (light["stretches"].size() == 1 && !light["stretches"][0]["in_sun"])
        CHECK(holds(t.batch_exterior, "late light: sky alone"));
    CHECK(holds(t.calendar, in_calendar(clock.up(utc(light["start_utc"])))));
    CHECK(holds(t.calendar, in_calendar(clock.down(utc(light["end_utc"])))));
    CHECK(holds(t.sheet_csv, in_csv(light["start_utc"]) + "," + in_csv(light["end_utc"])));
    if (light["sun_goes_utc"].is_null()) return;
    const Instant goes = utc(light["sun_goes_utc"]);
    const bool within = light["stretches"][0]["in_sun"];
    if (light["stretches"].size() > 2) return;  // the spans are listed
    const std::string words = (within ? "sun to " : "sun gone ") + clock.down(goes) + " (";
    for (const std::string* text : {&page, &t.page, &t.sheet_csv})
        CHECK(holds(*text, words));
    if (within) CHECK(holds(t.batch_exterior, "late light: sun to " + clock.down(goes)));
}

void check_spot(const json& spot, const Told& t, const Clock& clock) {
    for (const json& d : spot["direct"]) {
        if (d["begins_by"] == "midnight" || d["ends_by"] == "midnight") continue;
        if (!is_longer_than_a_minute(d)) continue;
        CHECK(holds(t.exterior, "direct light " + clock.inward(d)));
        CHECK(holds(t.page, clock.inward(d)));
        CHECK(holds(t.sheet_csv, in_csv(d["start_utc"]) + "," + in_csv(d["end_utc"])));
    }
    for (const char* list : {"wanted", "for_late_light"})
        for (const json& w : spot[list]) {
            if (w["latest_start_utc"].is_null()) continue;
            const Instant latest = utc(w["latest_start_utc"]);
            CHECK(holds(t.exterior, "set up by " + clock.down(latest) + ", slack"));
            if (std::string{list} == "wanted") CHECK(holds(t.exterior, clock.inward(w)));
            if (spot[list].size() > 1) continue;  // the page has the longest
            CHECK(holds(t.page, "set up by " + clock.down(latest) + ", slack"));
            CHECK(holds(t.sheet_csv, "set up by " + clock.down(latest) + ", slack"));
            CHECK(holds(t.sheet_csv, in_csv(w["latest_start_utc"])));
        }
    for (const json& light : spot["late_light"])
        if (light["evening"]) check_late_light(light, t, clock, t.exterior);
}

void check_key(const Told& t, const Clock& clock) {
    if (t.key_json.empty() || t.key_json["intervals"].empty()) return;
    const json& best = t.key_json["intervals"][0];
    if (best["start_utc"].is_null()) return;
    const std::string from = clock.up(utc(best["start_utc"])),
                      to = clock.down(utc(best["end_utc"]));
    CHECK(holds(t.key, "clean key " + from + " to " + to));
    CHECK(holds(t.page, from + " to " + to));
    CHECK(holds(t.calendar, in_calendar(from)));
    CHECK(holds(t.calendar, in_calendar(to)));
    CHECK(holds(t.sheet_csv, in_csv(best["start_utc"])));
    if (best["sure"].is_null()) return;
    const json sure{{"start_utc", best["sure"][0]}, {"end_utc", best["sure"][1]}};
    if (!is_longer_than_a_minute(sure)) return;
    for (const std::string* text : {&t.key, &t.page, &t.sheet_csv})
        CHECK(holds(*text, clock.inward(sure)));
}

void check_day(const Told& t, const Clock& clock) {
    for (const json& e : t.day_json["events"]) {
        const std::string kind = e["kind"];
        const Instant at = utc(e["utc"]);
        const std::string minute = kind == "first_sun"  ? clock.up(at)
                                   : kind == "last_sun" ? clock.down(at)
                                                        : clock.nearest(at);
        std::string words = kind;
        std::replace(words.begin(), words.end(), '_', ' ');
        CAPTURE(kind);
        CHECK(holds(t.day, words + ' ' + minute));  // the line of the event
        CHECK((kind.find("dawn") != kind.npos || kind.find("dusk") != kind.npos ||
               holds(t.batch_day, ' ' + minute)));
        if (kind == "first_sun" || kind == "last_sun" || kind == "rise" || kind == "set")
            CHECK(holds(t.page, words + ' ' + minute));
        CHECK(holds(t.sheet_csv, words));
        CHECK(holds(t.sheet_csv, in_csv(e["utc"])));
    }
    for (const json& light : t.day_json["late_light"]["intervals"]) {
        CHECK(holds(t.day, clock.inward(light)));
        if (light["evening"]) CHECK(holds(t.batch_day, in_row(clock.inward(light))));
        const json& at = light[light["evening"] ? "sun_goes_utc" : "sun_comes_utc"];
        if (at.is_null() || light["stretches"].size() > 2) continue;
        CHECK(holds(t.day, light["evening"] ? clock.down(utc(at)) + " (" : clock.up(utc(at))));
    }
}

}  // namespace

TEST_CASE("an instant is told with one minute by day, exterior, key and the light sheet",
          "[cli][minute]") {
    int lengths = 0;
    for (const Moved& place : places) {
        CAPTURE(place.example, place.position, place.date);
        const ScratchFile file{"one-minute.toml", text_of(place)};
        const auto location = keyhour::read::read_location(file.path);
        REQUIRE(location);
        const Clock clock{location->site.zone};
        const Told t = ask(file.path, place.date, location->room.has_value());
        CHECK_FALSE(t.spots.empty());
        for (const json& spot : t.spots)
            check_spot(spot, t, clock);
        check_key(t, clock);
        check_day(t, clock);
        for (const std::string* text : {&t.exterior, &t.day, &t.key, &t.page, &t.sheet_csv})
            lengths += check_lengths(*text);
    }
    CHECK(lengths > 50);
}

TEST_CASE("lock tells its leaks outward, and cloth to the minute before", "[cli][minute]") {
    int leaks = 0;
    for (const Moved& place : places) {
        if (std::string{place.example} == "sundet") continue;
        CAPTURE(place.example, place.position, place.date);
        const ScratchFile file{"one-minute-lock.toml", text_of(place)};
        const auto location = keyhour::read::read_location(file.path);
        REQUIRE(location);
        const Clock clock{location->site.zone};
        Words words{"lock", file.path, "--date", place.date, "--start", "09:30", "--end", "15:00"};
        const std::string page = flat(out_of(words));
        words.push_back("--json");
        const json found = json::parse(out_of(words));
        for (const json& leak : found["leaks"]) {
            if (leak["start_utc"].is_null() || !leak["begins_by"].is_string()) continue;
            CHECK(holds(page, clock.outward(leak)));
            ++leaks;
        }
        for (const json& cover : found["covers"])
            CHECK(holds(page, "by " + clock.down(utc(cover["needed_by_at_any_bearing_utc"]))));
    }
    CHECK(leaks > 5);
}

TEST_CASE("what is possible at some bearing only is told outward in a range too", "[cli][minute]") {
    const std::string press = example("tallow-lane");
    const auto location = keyhour::read::read_location(press);
    REQUIRE(location);
    const Clock clock{location->site.zone};
    const Words range{"key", press, "--from", "2026-01-01", "--to", "2026-12-31", "--all"};
    const std::string page = out_of(range);
    Words words = range;
    words.insert(words.end(), {"--json", "--no-light", "--no-doubt"});
    int rows = 0;
    const json document = json::parse(out_of(words));
    for (const json& day : document["days"])
        for (const json& key : day["intervals"]) {
            if (!key["start_utc"].is_null()) continue;
            const Instant from = utc(key["possible"][0]), to = utc(key["possible"][1]);
            CAPTURE(day["date"]);
            CHECK(holds(page, clock.down(from) + "-" + clock.up(to) + "    -"));
            ++rows;
        }
    CHECK(rows >= 5);
}

TEST_CASE("the hours at a place outside fit 80 columns in feet, beside a wall", "[cli]") {
    const ScratchFile wall{"hours-feet.toml",
                           changed(example_text("tallow-lane"), "camera_bearing = 240",
                                   "camera_bearing = 240\nfacade_faces = 150")};
    for (const char* date : {"2026-02-14", "2026-06-21", "2026-12-01"})
        for (const char* units : {"ft", "m"}) {
            const std::string page = out_of(
                {"exterior", wall.path, "--date", date, "--show", "hours", "--units", units});
            CHECK(too_long(page) == Words{});
            // No row is broken: each begins with its hour.
            CHECK_FALSE(std::regex_search(page, std::regex{"\n {6}\\S"}));
        }
}
