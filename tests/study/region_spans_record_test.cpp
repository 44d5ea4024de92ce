// When the sun stands in fixed regions of directions, and how much is asked for to know it.

#include <catch2/catch.hpp>

#include "../../src/study/region_spans.hpp"
#include "key_rooms.hpp"
#include "recorded.hpp"

using namespace keyhour;
using namespace keyhour::study;
using namespace date::literals;

namespace {

constexpr double degree = std::numbers::pi / 180;

/// Where the sun stands over the ground, degrees.
room::PlanDirection sun_deg(const SunPath& path, Instant t) {
    const Moment m = path.at(t);
    return {std::atan2(m.toward.east, m.toward.north) / degree, m.altitude_deg};
}

room::DirectionRing ring(const std::vector<std::pair<double, double>>& points_deg) {
    room::DirectionRing out;
    for (const auto& [azimuth, altitude] : points_deg)
        out.push_back({azimuth * degree, altitude * degree});
    return out;
}

/// Counter-clockwise, azimuth to the right.
room::DirectionRing box(double from, double to, double low, double high) {
    return ring({{from, low}, {to, low}, {to, high}, {from, high}});
}

struct Sky {
    OnDates on;
    Instant from, to;
    std::vector<SunTurn> turns;
    SkyFrame frame;
    Sky(const site::Location& l, site::LocalDate first, int days)
        : on{l, first, site::LocalDate{date::sys_days{first} + date::days{days}}},
          from{on.start_of(first)},
          to{on.start_of(first, days)},
          turns{sun_turns(on.study.path(), from, to)},
          frame{on.study.path()} {}
};

site::Location at_latitude(double latitude_deg, double longitude_deg = 0) {
    WorkedRoom worked;
    worked.latitude_deg = latitude_deg;
    site::Location l = worked.location();
    l.site.observer.longitude = Angle::degrees(longitude_deg);
    return l;
}

/// The ways of one cut, and what they are within some hours.
void add_ways(Record& record, std::string_view label, const Sky& sky, const DirectionCut& cut) {
    for (const DirectionCut::Way& way : cut.cut()) {
        record.add(label, way);
        record.add("parts", way.parts(sky.from, sky.to));
        record.add("hours", way.parts(sky.from + Seconds{9.5 * 3600}, sky.from + Seconds{54000}));
    }
}

/// A region of straight sides over the plan and its margin, degrees, which counts how often it is
/// asked, and when.
struct Polygon {
    std::vector<room::DirectionRing> rings;
    double more_deg = 0;  ///< the margin's region is so much larger than the rings
    double lowest_deg = 0, highest_deg = 90;
    double more_sky_deg = 0;                       ///< over the skyline
    std::vector<room::DirectionRing> convex = {};  ///< what the margin takes, where no ring is
    mutable long calls = 0;
    mutable double asked_s = 0;

    double operator()(const Moment& m, const room::PlanTurn& turn) const {
        ++calls;
        asked_s += std::remainder(m.at.unix_s(), 86400);
        const room::Point3 d = turn.to_plan(m.toward);
        double most = -1e300;
        for (const auto& r : convex.empty() ? rings : convex)
            most = std::max(most, inside_deg(r, std::atan2(d.x, d.y), m.altitude_deg * degree));
        return std::min({most + more_deg, m.above_skyline_deg + more_sky_deg,
                         m.altitude_deg - lowest_deg, highest_deg - m.altitude_deg});
    }
    static double inside_deg(const room::DirectionRing& r, double azimuth, double altitude) {
        double least = 1e300;
        for (std::size_t i = 0; i < r.size(); ++i) {
            const auto &a = r[i], &b = r[(i + 1) % r.size()];
            const double dx = b.azimuth - a.azimuth, dy = b.altitude - a.altitude;
            const double off = std::remainder(azimuth - a.azimuth, 2 * std::numbers::pi);
            least = std::min(least, (dx * (altitude - a.altitude) - dy * off) / std::hypot(dx, dy));
        }
        return least / degree;
    }
};

void add_spans(Record& record, std::string_view label, const OnDates& on, Instant from, Instant to,
               const Polygon& of) {
    RegionSpans regions{on.study, from, to, of.lowest_deg * degree, of.highest_deg * degree};
    const std::size_t other = regions.add({box(-180, 180, 10, 11)});
    const std::size_t region = regions.add(of.rings);
    regions.cut();
    record.add(label, std::vector{other, region});
    record.add("spans", regions.spans(region, std::cref(of)));
    record.add("asked", std::vector{static_cast<double>(of.calls), of.asked_s});
    record.add("stated", regions.stated(region, std::cref(of)));
    record.add("some", regions.some(region, std::cref(of)));
}

}  // namespace

TEST_CASE("the sun's ways through outlines over the ground are those recorded",
          "[recorded][direction_cut]") {
    Record record{"cut_ground"};
    for (const double latitude_deg : {-45.0, 0.0, 52.0, 71.0, 89.5})
        for (const site::LocalDate d : {2026_y / 3 / 20, 2026_y / 6 / 20, 2026_y / 12 / 21}) {
            const Sky sky{at_latitude(latitude_deg, 30), d, 2};
            DirectionCut cut{sky.on.study.path(), sky.frame, sky.turns};
            for (const room::DirectionRing& r :
                 {box(100, 200, 5, 40), box(-20, 30, -3, 25), box(300, 420, 10, 60),
                  ring({{0, 10}, {360, 10}, {360, 80}, {0, 80}}),
                  ring({{150, 5}, {210, 5}, {180, 50}}), ring({{90, 30}, {270, 12}, {180, 60}}),
                  ring({{-170, -40}, {170, -40}, {170, 40}, {-170, 40}})})
                cut.add(cut.add_region(), r);
            // Round where the first turn begins, and with a slanted side close to it.
            const LevelVector v = sky.on.study.path().place().direction(
                sky.on.study.path().vector(sky.turns.front().begins));
            const double x = std::atan2(v.east, v.north) / degree, y = std::asin(v.up) / degree;
            for (const double aside : {-0.1, 0.1, 359.9, -360.1}) {
                const double a = x + aside;
                cut.add(cut.add_region(), ring({{a - 5, y - 5}, {a + 5, y - 5}, {a + 5, y + 5}}));
                cut.add(cut.add_region(), ring({{a - 5, y - 5}, {a + 5, y + 5}, {a - 5, y + 5}}));
                cut.add(cut.add_region(), ring({{a + 5, y - 5}, {a + 5, y + 5}, {a - 5, y + 5}}));
            }
            // Outlines no longer than a chord.
            const auto [noon_x, noon_y] =
                sun_deg(sky.on.study.path(), sky.from + Seconds{3600 * 10.0});
            cut.add(cut.add_region(), box(noon_x - 0.2, noon_x + 0.2, noon_y - 0.2, noon_y + 0.2));
            const std::size_t both = cut.add_region();
            cut.add(both, box(120, 240, 2, 60));
            room::DirectionRing hole = box(160, 200, 10, 30);
            std::reverse(hole.begin(), hole.end());
            cut.add(both, hole);
            cut.add(both, {});
            add_ways(record, "way", sky, cut);
        }
    record.check();
}

TEST_CASE("the sun's ways through outlines that turn are those recorded",
          "[recorded][direction_cut]") {
    Record record{"cut_turned"};
    for (const double latitude_deg : {-45.0, 52.0, 78.0})
        for (const double doubt_deg : {0.5, 4.0}) {
            const Sky sky{at_latitude(latitude_deg), 2026_y / 5 / 1, 1};
            DirectionCut cut{sky.on.study.path(), sky.frame, sky.turns};
            for (const room::DirectionRing& r :
                 {box(40, 80, 5, 40), box(-90, -30, 1, 12), ring({{-30, 10}, {60, 12}, {0, 50}}),
                  ring({{200, 3}, {240, 3}, {240, 20}, {230, 20}, {230, 30}, {200, 30}})}) {
                const std::size_t stated = cut.add_region(), every = cut.add_region(),
                                  some = cut.add_region();
                cut.add_turned(stated, every, some, r, 127 * degree, doubt_deg * degree);
            }
            const auto [x, y] = sun_deg(sky.on.study.path(), sky.from + Seconds{3600 * 10.0});
            const std::size_t stated = cut.add_region(), every = cut.add_region(),
                              some = cut.add_region();
            cut.add_turned(stated, every, some, box(x - 127.2, x - 126.8, y - 0.2, y + 0.2),
                           127 * degree, doubt_deg * degree / 5);
            const std::size_t alone = cut.add_region(), two = cut.add_region();
            cut.add_turned(alone, alone, alone, box(40, 80, 5, 40), 127 * degree, 0);
            cut.add_turned(alone, alone, two, box(-20, 10, 5, 40), 127 * degree, 0.02);
            add_ways(record, "way", sky, cut);
        }
    record.check();
}

TEST_CASE("ways that brush corners are those recorded", "[recorded][direction_cut]") {
    Record record{"cut_brushes"};
    const Sky sky{at_latitude(52), 2026_y / 5 / 1, 1};
    DirectionCut cut{sky.on.study.path(), sky.frame, sky.turns};
    for (const double hour : {8.0, 12.0, 15.5})
        for (const double off_deg : {-3e-3, -1e-3, -2e-4, 2e-4, 1e-3, 3e-3}) {
            const auto [x, y] = sun_deg(sky.on.study.path(), sky.from + Seconds{3600 * hour});
            const double corner = y + off_deg;
            // Standing on its corner, hanging from it, and a notch.
            cut.add(cut.add_region(),
                    ring({{x, corner}, {x + 3, corner + 9}, {x - 3, corner + 9}}));
            cut.add(cut.add_region(),
                    ring({{x - 3, corner - 9}, {x + 3, corner - 9}, {x, corner}}));
            cut.add(cut.add_region(), ring({{x - 3, corner - 9},
                                            {x + 3, corner - 9},
                                            {x + 3, corner + 9},
                                            {x, corner},
                                            {x - 3, corner + 9}}));
        }
    for (const DirectionCut::Way& way : cut.cut())
        record.add("way", way);
    record.check();
}

TEST_CASE("spans of regions are those recorded", "[recorded][region_spans]") {
    Record record{"region_spans"};
    const site::Location location = flax_road();
    const auto d = 2026_y / 4 / 4;
    const OnDates on{location, d, d};
    const Instant from = on.start_of(d), to = on.start_of(d, 1);
    const double turn = room::plan_bearing(*location.room).from_north.in_degrees();
    const auto over_plan = [&](double a, double b, double low, double high) {
        return box(a - turn, b - turn, low, high);
    };
    for (const double more_deg : {0.0, 0.002, -0.002, 0.06, -0.06, 0.4, -0.4, 3.0, -3.0, -90.0}) {
        Polygon p{{over_plan(20, 50, 5, 20), over_plan(320, 355, 3, 60)}, more_deg};
        add_spans(record, "two", on, from, to, p);
    }
    for (const auto& [low, high] :
         {std::pair{0.0, 90.0}, {12.0, 30.0}, {25.0, 26.0}, {-2.0, 8.0}}) {
        Polygon p{{over_plan(-60, 80, -5, 60)}, 0, low, high};
        add_spans(record, "limits", on, from, to, p);
    }
    Polygon cone{{ring({{-20 - turn, 8}, {40 - turn, 25}, {0 - turn, 55}})}};
    add_spans(record, "cone", on, from, to, cone);
    add_spans(record, "hours", on, from + Seconds{3600 * 10.0}, from + Seconds{3600 * 13.0}, cone);
    add_spans(record, "minutes", on, from + Seconds{3600 * 10.0}, from + Seconds{36600}, cone);
    // From within the region, a little after it begins or before it ends.
    const Polygon wide{{over_plan(-60, 80, 5, 60)}};
    RegionSpans regions{on.study, from, to, 0, 1.5};
    const std::size_t region = regions.add(wide.rings);
    regions.cut();
    const auto whole = regions.stated(region, std::cref(wide));
    REQUIRE(!whole.empty());
    for (const double s : {0.1, 30.0, 190.0, 500.0})
        add_spans(record, "within", on, whole[0].from + Seconds{s}, whole[0].to - Seconds{s}, wide);
    WorkedRoom certain;
    certain.within_deg = 0;
    const OnDates sure{certain.location(), d, d};
    for (const double more_deg : {0.06, -0.06, 0.4, -0.4}) {
        Polygon p{{box(-60, 80, 5, 20)}, more_deg};
        add_spans(record, "sure", sure, sure.start_of(d), sure.start_of(d, 1), p);
    }
    add_spans(record, "week", on, from, from + Seconds{3 * 86400.0}, cone);
    record.check();
}

TEST_CASE("spans of regions whose corners the sun brushes are those recorded",
          "[recorded][region_spans]") {
    Record record{"region_spans_brushed"};
    const auto d = 2026_y / 5 / 1;
    for (const double within_deg : {0.0, 1.5}) {
        WorkedRoom worked;
        worked.within_deg = within_deg;
        const site::Location location = worked.location();
        const OnDates on{location, d, d};
        const Instant from = on.start_of(d), to = on.start_of(d, 1);
        const double turn = room::plan_bearing(*location.room).from_north.in_degrees();
        for (const double hour : {8.0, 12.05, 15.5})
            for (const double off_deg : {-8e-4, 8e-4}) {
                auto [x, y] = sun_deg(on.study.path(), from + Seconds{3600 * hour});
                x -= turn;
                y += off_deg;
                for (const double more_deg : {0.0, 1e-3, -1e-3, 0.02}) {
                    Polygon up{{ring({{x, y}, {x + 3, y + 9}, {x - 3, y + 9}})}, more_deg};
                    add_spans(record, "up", on, from, to, up);
                    Polygon down{{ring({{x - 3, y - 9}, {x + 3, y - 9}, {x, y}})}, more_deg};
                    add_spans(record, "down", on, from, to, down);
                    // A notch from above, in what the sun passes through.
                    Polygon notch{{ring({{x - 3, y - 9},
                                         {x + 3, y - 9},
                                         {x + 3, y + 9},
                                         {x, y},
                                         {x - 3, y + 9}})},
                                  more_deg};
                    notch.convex = {ring({{x - 3, y - 9}, {x, y - 9}, {x, y}, {x - 3, y + 9}}),
                                    ring({{x, y - 9}, {x + 3, y - 9}, {x + 3, y + 9}, {x, y}})};
                    add_spans(record, "notch", on, from, to, notch);
                    if (more_deg != 0.02) continue;
                    const Instant at = from + Seconds{3600 * hour};
                    add_spans(record, "notch_until", on, from, at + Seconds{60}, notch);
                    add_spans(record, "notch_from", on, at - Seconds{60}, to, notch);
                }
            }
    }
    record.check();
}

TEST_CASE("spans of regions over skylines that the sun brushes are those recorded",
          "[recorded][region_spans]") {
    Record record{"region_spans_skylines"};
    const auto d = 2026_y / 5 / 1;
    WorkedRoom worked;
    const OnDates plain{worked.location(), d, d};
    const auto sun = [&](double hour) {
        const auto s = sun_deg(plain.study.path(), plain.start_of(d) + Seconds{3600 * hour});
        return std::pair{s.azimuth < 0 ? s.azimuth + 360 : s.azimuth, s.altitude};
    };
    const double x10 = sun(10).first;
    std::vector<std::vector<std::pair<double, double>>> skylines{
        {{200, 5}}, {{0, 3}, {90, -1}, {180, 20}, {270, 2}}, {{10, 12}, {359, 2}}};
    for (const double off_deg : {-8e-4, 0.0, 8e-4}) {
        const auto [x, y] = sun(10);
        const auto [x2, y2] = sun(16);
        skylines.push_back({{0, 0}, {x - 5, 0}, {x, y + off_deg}, {x + 5, 0}});
        skylines.push_back(
            {{x - 20, y + 9}, {x, y + off_deg}, {x + 20, y + 9}, {x2, y2 + off_deg}});
    }
    for (const auto& points : skylines)
        for (const double low : {0.0, 10.0}) {
            site::Location location = worked.location();
            location.site.horizon = skyline(points);
            const OnDates on{location, d, d};
            const double turn = room::plan_bearing(*location.room).from_north.in_degrees();
            for (const double more_sky_deg : {0.0, -2e-3, 2e-3}) {
                Polygon p{{box(-150, 150, -4, 70)}, 0, low, 40, more_sky_deg};
                add_spans(record, "skyline", on, on.start_of(d), on.start_of(d, 1), p);
            }
            // Which of the bearings see the corner of the skyline?
            for (const auto& [a, b] : {std::pair{x10 - 30, x10 - 0.5}, {x10 + 0.7, x10 + 30}}) {
                Polygon p{{box(a - turn, b - turn, -4, 70)}, 0, low, 40};
                add_spans(record, "aside", on, on.start_of(d), on.start_of(d, 1), p);
            }
        }
    record.check();
}

TEST_CASE("the directions that the sun may come from are those recorded",
          "[recorded][region_spans]") {
    Record record{"region_bounds"};
    for (const double within_deg : {0.0, 3.0, 120.0, 200.0})
        for (const double hours : {0.5, 11.0, 12.0, 30.0}) {
            WorkedRoom worked;
            worked.within_deg = within_deg;
            const auto d = 2026_y / 10 / 3;
            const OnDates on{worked.location(), d, d};
            const Instant from = on.start_of(d) + Seconds{8 * 3600.0};
            const RegionSpans regions{on.study, from, from + Seconds{3600 * hours},
                                      hours > 20 ? -0.1 : 0.2, hours > 20 ? 1.57 : 1.0};
            const room::RegionBounds bounds = regions.bounds();
            // From which slack on may light come from there?
            std::vector<double> slacks;
            std::vector<double> azimuths;
            for (double azimuth = 0; azimuth < 360; azimuth += 24)
                azimuths.push_back(azimuth);
            // Near north and south over the ground too.
            const double turn = room::plan_bearing(on.study.room()).from_north.in_degrees();
            for (const double bearing : {-2.0, 1.0, 2.9, 58.0, 178.0, 181.5, 182.9})
                azimuths.push_back(bearing - turn);
            for (const double azimuth : azimuths)
                for (const double altitude : {2.0, 33.0, 80.0}) {
                    const Angle a = Angle::degrees(azimuth), h = Angle::degrees(altitude);
                    const room::Point3 p{cos(h) * sin(a), cos(h) * cos(a), sin(h)};
                    double no = -1, yes = 4;
                    while (yes - no > 1e-8) {
                        const double middle = (no + yes) / 2;
                        (bounds.may_come(p, middle) ? yes : no) = middle;
                    }
                    slacks.push_back(yes);
                }
            record.add("altitudes", std::vector{bounds.lowest, bounds.highest});
            record.add("slacks", slacks);
        }
    record.check();
}

TEST_CASE("a run is made to hold what it is found by", "[recorded][region_spans]") {
    Record record{"run_with"};
    const auto span = [](double from, double to) {
        return Span{Instant::from_unix_s(from), Instant::from_unix_s(to), true, true};
    };
    const std::vector<Span> spans{span(0, 100), span(200, 300), span(300, 400)};
    for (const auto& [from, to] : {std::pair{10.0, 20.0},
                                   {-20.0, 90.0},
                                   {-50.0, 300.0},
                                   {100.0, 100.0},
                                   {290.0, 310.0},
                                   {110.0, 190.0},
                                   {500.0, 600.0},
                                   {-50.0, -10.0},
                                   {380.0, 420.0},
                                   {200.0, 200.0}})
        record.add("run", run_with(spans, span(from, to)));
    record.add("none", run_with({}, span(1, 2)));
    record.check();
}
