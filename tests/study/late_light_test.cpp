#include "keyhour/study/late_light.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "keyhour/site/dates.hpp"
#include "keyhour/study/day.hpp"
#include "keyhour/study/spot_light.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

Instant minute(double m) {
    return Instant::from_unix_s(60 * m);
}

LateLight band(double from, double to, bool evening) {
    LateLight l;
    l.start = minute(from);
    l.end = minute(to);
    l.evening = evening;
    return l;
}

DirectSpan direct(double from, double to, const char* begins_by, const char* ends_by) {
    return {{minute(from), minute(to), false, false}, begins_by, ends_by};
}

LateLight split(LateLight light, const std::vector<DirectSpan>& sun) {
    std::vector<LateLight> one{std::move(light)};
    split_by_sun(one, sun);
    return one[0];
}

std::string shape(const LateLight& l) {
    std::string text;
    for (const LateStretch& s : l.stretches)
        text += (s.in_sun ? "sun " : "sky ") +
                std::to_string(std::lround(s.span.to.unix_s() / 60)) + ' ';
    return text;
}

/// In Britain, skyline `ring_deg` high all around.
site::Location walled(double ring_deg, site::Side wants) {
    site::Location l;
    l.site.observer = {Angle::degrees(52), Angle{}, 0};
    if (ring_deg > 0) {
        std::vector<site::HorizonPoint> ring;
        for (int b = 0; b < 360; b += 90)
            ring.push_back({Angle::degrees(b), Angle::degrees(ring_deg)});
        l.site.horizon = site::Horizon{ring};
    }
    site::Spot spot;
    spot.name = "spot";
    spot.position = l.site.observer;
    spot.wants = wants;
    spot.camera_bearing = Angle::degrees(250);
    l.spots = {spot};
    return l;
}

const site::LocalDate march = *site::read_date("2026-03-10");

std::shared_ptr<const SharedTrack> track() {
    return SharedTrack::make(*site::read_utc("2026-03-09T12:00:00Z"),
                             *site::read_utc("2026-03-11T12:00:00Z"));
}

const LateLight& evening_of(const std::vector<LateLight>& lights) {
    return lights.at(1);
}

}  // namespace

TEST_CASE("late light is split where the sun comes and goes", "[late]") {
    const LateLight two = split(band(100, 200, true), {direct(50, 120, "horizon", "mast"),
                                                       direct(125, 150, "mast", "ridge")});
    CHECK(shape(two) == "sun 120 sky 125 sun 150 sky 200 ");
    CHECK(two.sun_at == minute(150));
    CHECK(two.behind == "ridge");
    const LateLight before = split(band(100, 200, true), {direct(50, 90, "horizon", "wall")});
    CHECK(shape(before) == "sky 200 ");
    CHECK(before.sun_at == minute(90));
    CHECK(before.behind == "wall");
    const LateLight out = split(band(100, 200, true), {direct(50, 90, "horizon", "wall"),
                                                       direct(110, 230, "wall", "horizon")});
    CHECK(shape(out) == "sky 110 sun 200 ");
    CHECK_FALSE(out.sun_at);
    CHECK(out.behind.empty());
    CHECK(shape(split(band(100, 200, true), {})) == "sky 200 ");
}

TEST_CASE("a morning's late light is told with the sun that comes", "[late]") {
    const LateLight within = split(band(100, 200, false), {direct(170, 400, "ridge", "horizon")});
    CHECK(shape(within) == "sky 170 sun 200 ");
    CHECK(within.sun_at == minute(170));
    CHECK(within.behind == "ridge");
    const LateLight after = split(band(100, 200, false), {direct(260, 400, "barn", "horizon")});
    CHECK(shape(after) == "sky 200 ");
    CHECK(after.sun_at == minute(260));
    CHECK(after.behind == "barn");
    CHECK_FALSE(split(band(100, 200, false), {direct(60, 400, "barn", "horizon")}).sun_at);
}

TEST_CASE("a shot that wants the sun is counted to when it goes, any light to the band's end",
          "[late]") {
    for (const double ring : {0.0, 3.0}) {
        const site::Location back = walled(ring, site::Side::back);
        const SpotDay day = SpotLight{back, 0, track()}.on(march);
        REQUIRE(day.for_late_light.size() == 1);
        const LateLight& late = evening_of(day.late_light);
        REQUIRE(late.sun_at);
        CHECK(*late.sun_at == day.direct.back().span.to);
        CHECK(late.behind == (ring > 0 ? "skyline" : "horizon"));
        const SafeStart& start = day.for_late_light[0];
        CHECK(start.light.from == late.start);
        CHECK(start.light.to == *late.sun_at);
        CHECK((*late.sun_at - *start.latest).count() == Approx(30 * 60));
        CHECK(start.slack.count() == Approx((*late.sun_at - late.start).count() - 600));
        const site::Location any = walled(ring, site::Side::any);
        const SpotDay whole = SpotLight{any, 0, track()}.on(march);
        REQUIRE(whole.for_late_light.size() == 1);
        CHECK(whole.for_late_light[0].light.to == late.end);
    }
    // The sun goes before the band begins: no light from that side in it.
    const site::Location hills = walled(8, site::Side::back);
    const SpotDay day = SpotLight{hills, 0, track()}.on(march);
    CHECK(day.for_late_light.empty());
    CHECK(evening_of(day.late_light).stretches.size() == 1);
    CHECK(*evening_of(day.late_light).sun_at < evening_of(day.late_light).start);
    // In shade all day: what hides the sun is named.
    const site::Location pit = walled(60, site::Side::back);
    const SpotDay dark = SpotLight{pit, 0, track()}.on(march);
    CHECK_FALSE(evening_of(dark.late_light).sun_at);
    CHECK(evening_of(dark.late_light).behind == "skyline");
}

TEST_CASE("a site's late light loses the sun with its last sun", "[late]") {
    const site::Location l = walled(3, site::Side::any);
    const Day d = day(l.site, track()->track(), march);
    const LateLight& late = evening_of(d.late_light);
    REQUIRE(late.sun_at);
    for (const DayEvent& e : d.events)
        if (e.kind == DayEventKind::last_sun) CHECK(e.at == *late.sun_at);
    CHECK(late.behind == "skyline");
    REQUIRE(late.stretches.size() == 2);
    CHECK(late.stretches[0].in_sun);
    // As at a spot there that stands in the open.
    CHECK((*evening_of(SpotLight{l, 0, track()}.on(march).late_light).sun_at - *late.sun_at)
              .count() == Approx(0).margin(0.1));
}

TEST_CASE("the sky alone is the clear sky's, and falls as it does", "[late]") {
    const site::Location l = walled(3, site::Side::any);
    const SpotLight spot{l, 0, track()};
    SpotDay day = spot.on(march);
    spot.add_sky(day);
    const LateStretch& last = evening_of(day.late_light).stretches.back();
    REQUIRE(last.sky);
    CHECK_FALSE(evening_of(day.late_light).stretches.front().sky);
    const SpotInstant first = spot.at(last.span.from), end = spot.at(last.span.to),
                      before = spot.at(last.span.to - Seconds{600});
    CHECK(last.sky->at_start_lx.likely == Approx(first.sky.diffuse_horizontal_lx.likely));
    CHECK(last.sky->at_end_lx.high == Approx(end.sky.diffuse_horizontal_lx.high));
    CHECK(last.sky->first_stops == Approx(first.sky_fall->likely));
    CHECK(last.sky->last_stops == Approx(before.sky_fall->likely));
    CHECK(last.sky->last_stops > 1.2);  // twilight falls faster and faster
    CHECK(last.sky->first_stops < 0.8);
}

TEST_CASE("the sun of an evening goes at the last end before the band's, whatever comes later",
          "[late]") {
    const auto at = [](double minutes) { return Instant::from_unix_s(60 * minutes); };
    const auto direct = [&](double from, double to, const char* behind) {
        DirectSpan d;
        d.span = Span{at(from), at(to), false, false};
        d.begins_by = d.ends_by = behind;
        return d;
    };
    const auto told = [&](bool evening, const std::vector<DirectSpan>& spans) {
        LateLight light;
        light.start = at(100);
        light.end = at(200);
        light.evening = evening;
        light.stretches = {{{at(100), at(200)}}};
        std::vector<LateLight> lights{light};
        split_by_sun(lights, spans);
        return lights[0];
    };
    const LateLight one = told(true, {direct(50, 150, "ridge"), direct(300, 400, "tower")});
    REQUIRE(one.sun_at);
    CHECK(*one.sun_at == at(150));
    CHECK(one.behind == "ridge");
    const LateLight gone_before = told(true, {direct(20, 60, "tower")});
    REQUIRE(gone_before.sun_at);
    CHECK(*gone_before.sun_at == at(60));
    CHECK_FALSE(told(true, {direct(50, 150, "ridge"), direct(180, 200, "tower")}).sun_at);
    CHECK_FALSE(told(true, {direct(150, 260, "ridge")}).sun_at);
    const LateLight morning = told(false, {direct(20, 60, "ridge"), direct(130, 260, "tower")});
    REQUIRE(morning.sun_at);
    CHECK(*morning.sun_at == at(130));
    CHECK(morning.behind == "tower");
    CHECK_FALSE(told(false, {direct(90, 260, "ridge")}).sun_at);
}
