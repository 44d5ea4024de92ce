#include "tell/calendar.hpp"

#include <catch2/catch.hpp>

#include "keyhour/site/dates.hpp"

namespace tell = keyhour::tell;
namespace site = keyhour::site;
using keyhour::Instant;
using keyhour::Seconds;

namespace {

site::Location location_in(const char* zone) {
    site::Location location;
    location.site.name = "Mill; Green, \\ yard";
    location.site.zone = *site::Zone::named(zone);
    return location;
}

tell::SheetEvent key_at(const char* utc) {
    tell::SheetEvent e;
    e.kind = tell::SheetEvent::Kind::key;
    e.what = "Key: bench through east light";
    e.mark = "bench";
    e.window = "east light";
    e.span.from = *site::read_utc(utc);
    e.span.to = e.span.from + Seconds{1800};
    e.date = site::local_date(e.span.from, site::Zone{});
    return e;
}

std::string unfolded(std::string text) {
    for (std::size_t at = 0; (at = text.find("\r\n ", at)) != std::string::npos;)
        text.erase(at, 3);
    return text;
}

const Instant exported = *site::read_utc("2026-01-02T03:04:05Z");

std::string written(const std::vector<tell::SheetEvent>& events, const site::Location& location,
                    std::string_view before = {}, Instant now = exported) {
    return tell::calendar(events, location, now, before);
}

bool has_line(const std::string& text, const std::string& line) {
    return unfolded(text).find("\r\n" + line + "\r\n") != std::string::npos;
}

}  // namespace

TEST_CASE("an event stands at the local time of its zone, whose steps are told", "[tell]") {
    const auto location = location_in("Europe/London");
    const std::string text = written({key_at("2026-06-01T12:00:10Z")}, location);
    CHECK(has_line(text, "DTSTART;TZID=Europe/London:20260601T130100"));
    CHECK(has_line(text, "DTEND;TZID=Europe/London:20260601T133000"));
    // The Summer Time Order 2002: the last Sundays of March and October, at 1 o'clock GMT.
    CHECK_THAT(unfolded(text),
               Catch::Matchers::Contains("BEGIN:DAYLIGHT\r\nDTSTART:20260329T010000\r\n"
                                         "TZOFFSETFROM:+0000\r\nTZOFFSETTO:+0100\r\nTZNAME:BST"));
    CHECK_THAT(unfolded(text),
               Catch::Matchers::Contains("BEGIN:STANDARD\r\nDTSTART:20261025T020000\r\n"
                                         "TZOFFSETFROM:+0100\r\nTZOFFSETTO:+0000\r\nTZNAME:GMT"));
}

TEST_CASE("the zone's rules reach back to an event that begins in the year before", "[tell]") {
    const auto location = location_in("Europe/London");
    auto event = key_at("2027-01-01T00:10:00Z");
    event.span.from = event.span.from - Seconds{3600};
    const std::string text = written({event}, location);
    CHECK(has_line(text, "DTSTART;TZID=Europe/London:20261231T231000"));
    CHECK_THAT(unfolded(text), Catch::Matchers::Contains("DTSTART:20260101T000000"));
    CHECK_THAT(unfolded(text), Catch::Matchers::Contains("DTSTART:20271031T020000"));
}

TEST_CASE("minutes are those of the page: light inward, covers outward, work down", "[tell]") {
    using Kind = tell::SheetEvent::Kind;
    const auto location = location_in("Europe/London");
    const auto times = [&](Kind kind, const char* from, const char* to) {
        auto event = key_at("2026-01-10T12:00:00Z");
        event.kind = kind;
        event.span = {*site::read_utc(from), *site::read_utc(to)};
        const std::string text = unfolded(written({event}, location));
        const auto clock = [&](const std::string& name) {
            const std::string before = name + ";TZID=Europe/London:20260110T";
            return text.substr(text.rfind(before) + before.size(), 6);
        };
        return clock("DTSTART") + '-' + clock("DTEND");
    };
    const char *from = "2026-01-10T12:00:40Z", *to = "2026-01-10T12:30:50Z";
    CHECK(times(Kind::key, from, to) == "120100-123000");
    CHECK(times(Kind::wanted, from, to) == "120100-123000");
    CHECK(times(Kind::late_light, from, to) == "120100-123000");
    CHECK(times(Kind::cover, from, to) == "120000-123100");
    CHECK(times(Kind::rigging, from, to) == "120000-123000");
    CHECK(times(Kind::hang, from, to) == "120000-123000");
    // An event never ends as it begins.
    CHECK(times(Kind::wanted, from, "2026-01-10T12:00:50Z") == "120100-120200");
}

TEST_CASE("half an hour is left when an alarm tells of a set-up or of cloth", "[tell]") {
    const auto location = location_in("Europe/London");
    auto light = key_at("2026-06-01T12:00:00Z");
    light.kind = tell::SheetEvent::Kind::wanted;
    light.latest = *site::read_utc("2026-06-01T12:15:50Z");
    const std::string text = written({light}, location);
    CHECK(has_line(text, "TRIGGER;VALUE=DATE-TIME:20260601T114500Z"));
    CHECK(has_line(text, "TRIGGER;VALUE=DATE-TIME:20260601T121500Z"));
    auto cloth = key_at("2026-06-01T12:00:00Z");
    cloth.kind = tell::SheetEvent::Kind::hang;
    cloth.span.to = *site::read_utc("2026-06-01T12:05:50Z");
    CHECK(has_line(written({cloth}, location), "TRIGGER;VALUE=DATE-TIME:20260601T113500Z"));
    CHECK_FALSE(has_line(written({key_at("2026-06-01T12:00:00Z")}, location), "BEGIN:VALARM"));
}

TEST_CASE("cloths to hang within five minutes have one alarm, with the first of them", "[tell]") {
    const auto location = location_in("Europe/London");
    std::vector<tell::SheetEvent> cloths;
    for (const char* by : {"2026-06-01T12:04:10Z", "2026-06-01T12:00:10Z", "2026-06-01T12:05:30Z",
                           "2026-06-01T12:06:10Z"}) {
        tell::SheetEvent& e = cloths.emplace_back(key_at("2026-06-01T11:00:00Z"));
        e.kind = tell::SheetEvent::Kind::hang;
        e.number = cloths.size();
        e.what = "Hang cloth " + std::to_string(cloths.size());
        e.span.to = *site::read_utc(by);
    }
    const std::string text = written(cloths, location);
    const auto times = [&](const std::string& part) {
        int n = 0;
        for (std::size_t at = 0; (at = text.find(part, at)) != std::string::npos; ++at)
            ++n;
        return n;
    };
    CHECK(times("BEGIN:VALARM") == 2);
    CHECK(has_line(text, "TRIGGER;VALUE=DATE-TIME:20260601T113000Z"));
    CHECK(has_line(
        text, "DESCRIPTION:Hang cloth 2\\; Hang cloth 1\\; Hang cloth 3: within half an hour"));
    CHECK(has_line(text, "TRIGGER;VALUE=DATE-TIME:20260601T113600Z"));
}

TEST_CASE("an hour that the clock shows twice is told in UTC", "[tell]") {
    const auto location = location_in("Europe/London");
    const std::string text = written({key_at("2026-10-25T01:10:00Z")}, location);
    CHECK(has_line(text, "DTSTART:20261025T011000Z"));
    CHECK(has_line(text, "DTEND:20261025T014000Z"));
    // Both ends in one form (3.8.2.2): 00:40 is shown once, 01:10 twice.
    const std::string across = written({key_at("2026-10-24T23:40:00Z")}, location);
    CHECK(has_line(across, "DTSTART:20261024T234000Z"));
    CHECK(has_line(across, "DTEND:20261025T001000Z"));
}

TEST_CASE("a calendar without events still has a part", "[tell]") {
    auto day = key_at("2026-06-01T12:00:00Z");
    day.kind = tell::SheetEvent::Kind::day;
    const std::string text = written({day}, location_in("Europe/London"));
    CHECK(has_line(text, "BEGIN:VTIMEZONE"));
    CHECK_FALSE(has_line(text, "BEGIN:VEVENT"));
    // With a METHOD every event would have to name an organiser (RFC 5546, 3.2.1).
    CHECK_THAT(text, !Catch::Matchers::Contains("METHOD"));
}

TEST_CASE("what is no more is cancelled, of this location and these dates alone", "[tell]") {
    const auto location = location_in("Europe/London");
    auto gone = key_at("2026-06-01T15:00:00Z");
    gone.number = 2;
    gone.latest = gone.span.from;  // it has an alarm
    const auto stays = key_at("2026-06-01T12:00:00Z"), other_date = key_at("2026-06-02T12:00:00Z");
    const std::string first = written({stays, gone, other_date}, location);
    CHECK(has_line(first, "BEGIN:VALARM"));
    const Instant later = exported + Seconds{3600};
    const std::string second = written({stays}, location, first, later);
    const std::string flat = unfolded(second);
    CHECK_THAT(flat, Catch::Matchers::Contains("DTSTAMP:20260102T040405Z\r\nSEQUENCE:1\r\n"
                                               "DTSTART;TZID=Europe/London:20260601T160000"));
    CHECK(has_line(second, "STATUS:CANCELLED"));
    CHECK_FALSE(has_line(second, "BEGIN:VALARM"));
    CHECK_FALSE(has_line(second, "DTSTART;TZID=Europe/London:20260602T130000"));
    CHECK(written({stays}, location, second, later + Seconds{60}) == second);
    // It comes back under the same name.
    const std::string third = written({stays, gone}, location, second, later);
    CHECK(has_line(third, "SEQUENCE:2"));
    CHECK_FALSE(has_line(third, "STATUS:CANCELLED"));
    auto elsewhere = location_in("Europe/London");
    elsewhere.site.name = "another place";
    CHECK_FALSE(has_line(written({stays}, elsewhere, first), "STATUS:CANCELLED"));
}

TEST_CASE("text is escaped and folded at 75 octets, never inside a character", "[tell]") {
    auto location = location_in("Europe/Oslo");
    auto event = key_at("2026-06-01T12:00:00Z");
    for (int i = 0; i < 60; ++i)
        event.detail += "\xC3\xA5";  // å
    const std::string text = written({event}, location);
    CHECK(has_line(text, "LOCATION:Mill\\; Green\\, \\\\ yard"));
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = text.find("\r\n", at);
        REQUIRE(end != std::string::npos);
        CHECK(end - at <= 75);
        CHECK((static_cast<unsigned char>(text[at]) & 0xC0U) != 0x80U);
        if (text[at] == ' ') CHECK((static_cast<unsigned char>(text[at + 1]) & 0xC0U) != 0x80U);
        at = end + 2;
    }
    CHECK_THAT(unfolded(text), Catch::Matchers::Contains(event.detail));
}

TEST_CASE("a second export keeps UIDs, and counts SEQUENCE up only where something changed",
          "[tell]") {
    const auto location = location_in("Europe/London");
    const auto uid = [](const std::string& text) {
        const std::string flat = unfolded(text);
        const std::size_t at = flat.find("UID:");
        return flat.substr(at, flat.find("\r\n", at) - at);
    };
    const std::string first = written({key_at("2026-06-01T12:00:00Z")}, location);
    CHECK(has_line(first, "SEQUENCE:0"));
    CHECK(written({key_at("2026-06-01T12:00:00Z")}, location, first) == first);
    const std::string later =
        written({key_at("2026-06-01T12:07:00Z")}, location, first, exported + Seconds{86400});
    CHECK(uid(later) == uid(first));
    CHECK(has_line(later, "SEQUENCE:1"));
    CHECK(has_line(first, "DTSTAMP:20260102T030405Z"));
    CHECK(has_line(later, "DTSTAMP:20260103T030405Z"));
    const std::string again =
        written({key_at("2026-06-01T12:07:00Z")}, location, later, exported + Seconds{2 * 86400});
    CHECK(again == later);
    // What a stranger wrote there does not run over.
    std::string strange = first;
    strange.replace(strange.find("SEQUENCE:0"), 10, "SEQUENCE:2147483647");
    CHECK(has_line(written({key_at("2026-06-01T12:07:00Z")}, location, strange), "SEQUENCE:1"));

    auto other = key_at("2026-06-01T12:00:00Z");
    other.window = "west light";
    CHECK(uid(written({other}, location)) != uid(first));
}

TEST_CASE("a POSIX zone's name is made fit for a parameter", "[tell]") {
    const auto location = location_in("GMT0BST,M3.5.0/1,M10.5.0");
    const std::string text = written({key_at("2026-06-01T12:00:00Z")}, location);
    CHECK(has_line(text, "TZID:GMT0BST-M3-5-0/1-M10-5-0"));
    CHECK(has_line(text, "DTSTART;TZID=GMT0BST-M3-5-0/1-M10-5-0:20260601T130000"));
}
