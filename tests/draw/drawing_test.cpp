#include <png.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <regex>

#include "draw/labels.hpp"
#include "keyhour/study/sun_in_room.hpp"
#include "prepared.hpp"
#include "support/drawn.hpp"
#include "support/scratch_folder.hpp"
#include "support/tool.hpp"

using namespace keyhour;
using namespace keyhour::test;
using namespace date::literals;

namespace {

/// The first and the last column with ink of the drawing's words alone, mm, in DejaVu Sans.
std::pair<double, double> words_reach(std::string svg, double width,
                                      const test::ScratchFolder& folder) {
    const auto replace = [&](const std::string& what, const std::string& by) {
        for (std::size_t at = 0; (at = svg.find(what, at)) != std::string::npos; at += by.size())
            svg.replace(at, what.size(), by);
    };
    for (const char* shape : {"<path ", "<rect x", "<circle "})
        for (std::size_t at = 0; (at = svg.find(shape, at)) != std::string::npos;)
            svg.erase(at, svg.find("/>", at) + 2 - at);
    replace("font-family=\"Helvetica, Arial, 'Liberation Sans', sans-serif\"",
            "font-family=\"DejaVu Sans\"");
    REQUIRE(holds(svg, "DejaVu"));
    const std::string path = folder.path("words.svg"), png = folder.path("words.png");
    std::ofstream{path} << svg;
    constexpr int per_mm = 4;
    const int wide = static_cast<int>(width) * per_mm;
    REQUIRE(runs_well("rsvg-convert -b white -w " + std::to_string(wide) + " '" + path + "' -o '" +
                      png + "'"));
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    REQUIRE(png_image_begin_read_from_file(&image, png.c_str()) != 0);
    image.format = PNG_FORMAT_GRAY;
    std::vector<png_byte> grey(PNG_IMAGE_SIZE(image));
    REQUIRE(png_image_finish_read(&image, nullptr, grey.data(), 0, nullptr) != 0);
    int first = wide, last = 0;
    for (std::size_t i = 0; i < grey.size(); ++i)
        if (const int column = static_cast<int>(i % image.width); grey[i] < 128) {
            first = std::min(first, column);
            last = std::max(last, column);
        }
    REQUIRE(first < last);
    return {first / static_cast<double>(per_mm), (last + 1) / static_cast<double>(per_mm)};
}

void check_well_formed(const std::string& svg, const test::ScratchFolder& folder) {
    const std::string path = folder.path("drawing.svg");
    std::ofstream{path} << svg;
    CHECK(runs_well("xmllint --noout --nonet '" + path + "'"));
}

}  // namespace

TEST_CASE("every example is drawn, small, self-contained, and the same each time", "[draw]") {
    const bool xmllint = has_tool("xmllint");
    const test::ScratchFolder folder;
    for (const char* name : {"tallow-lane", "flax-road", "sundet", "mill-green/mill-green"})
        for (const auto& [date, width] :
             {std::pair{site::LocalDate{2026_y / 3 / 29}, 180.0}, {2026_y / 12 / 21, 92.0}}) {
            const Prepared p = example(name, date);
            const auto drawings = all_drawings(p, width);
            CHECK(drawings == all_drawings(p, width));
            for (const std::string& svg : drawings) {
                CAPTURE(name, width, svg.substr(0, 400));
                CHECK(svg.size() < 200'000);
                CHECK(holds(svg, " role=\"img\""));
                CHECK(holds(svg, "</title>"));
                CHECK(holds(svg, "</desc>"));
                for (const char* foreign : {"<script", "href", "<style", "nan", "url(http"})
                    CHECK_FALSE(holds(svg, foreign));
                if (xmllint) check_well_formed(svg, folder);
            }
        }
}

TEST_CASE("in the widest usual face a drawing's words keep inside its frame", "[draw]") {
    if (!has_tool("rsvg-convert") || !has_font("DejaVuSans.ttf")) return;
    const test::ScratchFolder folder;
    int looked_at = 0;
    for (const char* name : {"tallow-lane", "flax-road", "mill-green/mill-green"})
        for (const double width : {180.0, 92.0}) {
            const Prepared p = example(name, 2026_y / 3 / 29);
            std::vector<std::string> drawings = all_drawings(p, width);
            if (width > 100 && p.room()) drawings.push_back(first_mark_year(p, 2026_y));
            for (const std::string& svg : drawings) {
                CAPTURE(name, width, svg.substr(0, 300));
                const auto [first, last] = words_reach(svg, width, folder);
                CHECK(first >= 1);
                CHECK(last <= width - 1);
                ++looked_at;
            }
        }
    CHECK(looked_at > 15);
}

TEST_CASE("a hatch is lines within its shape, as dense as its step says", "[draw]") {
    // An L with a hole, 1516 mm2.
    const std::vector<std::vector<room::Point2>> rings{
        {{3, 4}, {53, 4}, {53, 24}, {23, 24}, {23, 54}, {3, 54}},
        {{8, 8}, {20, 8}, {20, 15}, {8, 15}}};
    const double area = 50 * 20 + 20 * 30 - 12 * 7;
    const auto inside = [&](room::Point2 p) {
        return contains(rings[0], p) && !contains(rings[1], p);
    };
    for (const double angle : {0.0, 45.0, -45.0, 90.0, 17.0}) {
        const draw::Hatch hatch{angle, 1.3, 0.25};
        const auto lines = rings_of(" d=\"" + draw::hatch_lines(rings, hatch) + '"');
        double sum = 0;
        for (const auto& line : lines) {
            CAPTURE(angle, line[0].x, line[0].y);
            REQUIRE(line.size() == 2);
            for (const double t : {0.01, 0.25, 0.5, 0.75, 0.99})
                CHECK(inside(line[0] + t * (line[1] - line[0])));
            const room::Point2 way = line[1] - line[0];
            const double turn = std::atan2(way.y, way.x) - hatch.angle_deg * std::acos(-1) / 180;
            CHECK(std::abs(length(way) * std::sin(turn)) < 0.02);  // two decimals
            sum += length(way);
        }
        CHECK(sum * hatch.step_mm == Approx(area).epsilon(0.06));
        const draw::Hatch dots{angle, 1.3, 0.5, draw::Hatch::Kind::dots};
        double count = 0;
        for (const auto& row : rings_of(" d=\"" + draw::hatch_lines(rings, dots) + '"')) {
            CHECK(inside(row[0] + 0.01 * (row[1] - row[0])));
            count += 1 + std::floor(length(row[1] - row[0]) / dots.step_mm);
        }
        CHECK(count * dots.step_mm * dots.step_mm == Approx(area).epsilon(0.06));
    }
}

TEST_CASE("no drawing has a pattern or a grey, which a photocopy loses", "[draw]") {
    const Prepared p = example("flax-road", 2026_y / 3 / 10);
    std::vector<Instant> hours;
    for (const int hour : {12, 13, 14, 15, 16, 17})
        hours.push_back(clock(p, hour));
    auto drawings = all_drawings(p, 180);
    drawings.push_back(p.plan(hours).svg);
    drawings.push_back(first_mark_year(p, 2026_y));
    for (const std::string& svg : drawings) {
        CHECK_FALSE(holds(svg, "<pattern"));
        CHECK_FALSE(holds(svg, "opacity"));
        for (const std::string mark : {"fill=\"", "stroke=\""})
            for (std::size_t at = svg.find(mark); at != std::string::npos;
                 at = svg.find(mark, at + 1)) {
                const std::string rest = svg.substr(at + mark.size(), 5);
                CAPTURE(mark, rest);
                CHECK((rest.starts_with("#000\"") || rest.starts_with("#fff\"") ||
                       rest.starts_with("none\"")));
            }
    }
}

TEST_CASE("names in a drawing are text, whatever they hold", "[draw]") {
    std::ifstream in{KEYHOUR_LOCATIONS "/tallow-lane.toml"};
    std::string text{std::istreambuf_iterator<char>{in}, {}};
    const auto rename = [&](const std::string& from, const std::string& to) {
        for (std::size_t at = 0; (at = text.find('"' + from + '"', at)) != std::string::npos;
             at += to.size())
            text.replace(at, from.size() + 2, '"' + to + '"');
    };
    rename("Tallow Lane Press", "<img src=x onerror=alert(1)>");
    rename("press window", "]]><script>alert(3)</script>");
    rename("warehouse opposite", "&lt;b&gt; \\u202e\\uFFFE");
    auto read = read::read_location_text(text, "names.toml");
    INFO((read ? std::string{} : read::text(read.error())));
    REQUIRE(read);
    // A file may hold no control character; another maker of locations might.
    read->room->marks[0].name = "\" onload=\"alert(2)'&\x07]]>";
    const Prepared p{*std::move(read), 2026_y / 2 / 14};
    auto drawings = all_drawings(p, 180);
    drawings.push_back(first_mark_year(p, 2026_y));
    const bool xmllint = has_tool("xmllint");
    const test::ScratchFolder folder;
    for (const std::string& svg : drawings) {
        CHECK_FALSE(holds(svg, "<img"));
        CHECK_FALSE(holds(svg, "<script"));
        CHECK_FALSE(holds(svg, "onload=\""));
        CHECK_FALSE(holds(svg, "\x07"));
        if (xmllint) check_well_formed(svg, folder);
    }
    CHECK(holds(drawings[0], "&lt;img src=x onerror=alert(1)&gt;"));
}

TEST_CASE("a drawing inside a page has its own ids and no declaration", "[draw]") {
    const Prepared p = example("tallow-lane", 2026_y / 2 / 14);
    const auto plan =
        draw::draw_plan(p.there(), p.room(), {p.date, {clock(p, 13)}, {}}, {92, "first", true});
    CHECK(plan.svg.starts_with("<svg "));
    CHECK(holds(plan.svg, "<g id=\"first-now\">"));
    CHECK_FALSE(holds(plan.svg.substr(0, plan.svg.find('>')), "mm\""));
    std::size_t ids = 0;
    for (std::size_t at = 0; (at = plan.svg.find(" id=\"", at)) != std::string::npos; ++at, ++ids)
        CHECK(plan.svg.compare(at + 5, 5, "first") == 0);
    CHECK(ids >= 5);
}

TEST_CASE("labels about one place do not lie on one another", "[draw]") {
    draw::Svg svg{{180, "t", false}, "t", "d"};
    draw::Labels labels{{0, 0, 180, 120}};
    std::vector<draw::Box> boxes;
    for (int i = 0; i < 12; ++i)
        boxes.push_back(labels.put(svg, {"a window of the house"}, {{90, 60}}));
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        CHECK(boxes[i].left >= 0);
        CHECK(boxes[i].right <= 180);
        for (std::size_t j = 0; j < i; ++j)
            CHECK(boxes[i].overlap(boxes[j]) == 0);
    }
}

TEST_CASE("a year's keys are those of its days", "[draw]") {
    const Prepared p = example("tallow-lane", 2026_y / 2 / 14);
    const auto track = study::track_of_year(p.location.site.zone, 2026_y);
    const study::SeasonalStudy seasons{p.location, track, 2026_y / 1 / 1, 2026_y / 12 / 31};
    const auto year = study::key_year(seasons, 0, 2026_y);
    REQUIRE(year.days.size() == 365);
    CHECK(year.clock_changes.size() == 2);
    const study::KeyDay& day = year.days[31 + 13];
    CHECK(day.date == 2026_y / 2 / 14);
    const auto strip = study::day_strip(p.location, p.room(), p.shared, p.date);
    REQUIRE(strip.keys.size() == day.intervals.size());
    REQUIRE(!strip.keys.empty());
    CHECK(std::abs((strip.keys[0].span->from - day.intervals[0].span->from).count()) < 1);
    CHECK(std::abs((strip.keys[0].sure->to - day.intervals[0].sure->to).count()) < 1);
    const auto best = draw::best_day(year);
    REQUIRE(best);
    const auto& longest = year.days[best->day].intervals[best->interval];
    for (const study::KeyDay& d : year.days)
        for (const study::KeyInterval& k : d.intervals)
            CHECK(k.sure_hold() <= longest.sure_hold());
    const std::string svg = draw::draw_year(p.location, year);
    CHECK(svg.size() < 200'000);
    for (const char* month : {">Jan<", ">Sep<", ">Dec<"})
        CHECK(holds(svg, month));
    CHECK(holds(svg, "clocks +1 h"));
    // The chart's sun is the site's own, over its roofs and trees.
    const auto event = [&](study::DayEventKind kind) {
        return std::ranges::find(strip.day.events, kind, &study::DayEvent::kind)->at;
    };
    REQUIRE(day.first_sun);
    REQUIRE(day.last_sun);
    CHECK(*day.first_sun == event(study::DayEventKind::first_sun));
    CHECK(*day.last_sun == event(study::DayEventKind::last_sun));
    CHECK(*day.first_sun - event(study::DayEventKind::rise) > Seconds{600});
    CHECK(holds(svg, ">first sun<"));
    CHECK_FALSE(holds(svg, "sunrise"));
}

TEST_CASE("what is sure lies within what is stated, and that within what is possible", "[draw]") {
    const Prepared p = example("flax-road", 2026_y / 5 / 15);
    const auto strip = study::day_strip(p.location, p.room(), p.shared, p.date);
    REQUIRE(strip.windows.size() == 4);
    const auto within = [](const std::vector<study::Span>& inner,
                           const std::vector<study::Span>& outer) {
        return std::all_of(inner.begin(), inner.end(), [&](const study::Span& s) {
            return std::any_of(outer.begin(), outer.end(), [&](const study::Span& o) {
                return o.from <= s.from + Seconds{1} && s.to <= o.to + Seconds{1};
            });
        });
    };
    std::size_t spans = 0;
    for (const study::WindowSun& w : strip.windows) {
        CHECK(within(w.sure, w.stated));
        CHECK(within(w.stated, w.possible));
        spans += w.stated.size();
    }
    CHECK(spans >= 3);
    for (std::size_t i = 1; i < strip.covers.size(); ++i)
        CHECK((strip.covers[i - 1].window < strip.covers[i].window ||
               strip.covers[i - 1].span.to < strip.covers[i].span.from));
}

TEST_CASE("the strip's minutes promise no light that isn't there and no cover too few", "[draw]") {
    const auto minutes = [](Instant t, double (*round)(double)) {
        return Instant::from_unix_s(round(t.unix_s() / 60) * 60);
    };
    const auto down = [](double x) { return std::floor(x); };
    const auto up = [](double x) { return std::ceil(x); };
    std::size_t spans = 0;
    for (const char* name : {"tallow-lane", "flax-road"}) {
        const Prepared p = example(name, 2026_y / 2 / 17);
        const site::Zone& zone = p.location.site.zone;
        const auto strip = study::day_strip(p.location, p.room(), p.shared, p.date);
        const std::string svg = draw::draw_strip(p.there(), strip, {400, "strip", false}).svg;
        const auto words = [&](Instant from, Instant to) {
            return ">" + site::whole_minutes(from, zone) + " to " + site::whole_minutes(to, zone);
        };
        for (const study::SpotDay& spot : strip.spots)
            for (const study::DirectSpan& d : spot.direct) {
                if (d.span.length() < Seconds{600}) continue;
                CAPTURE(name, words(minutes(d.span.from, up), minutes(d.span.to, down)));
                CHECK(holds(svg, words(minutes(d.span.from, up), minutes(d.span.to, down))));
                ++spans;
            }
        for (const study::CoverNeed& c : strip.covers) {
            CAPTURE(name, words(minutes(c.span.from, down), minutes(c.span.to, up)));
            CHECK(holds(svg, words(minutes(c.span.from, down), minutes(c.span.to, up))));
            ++spans;
        }
    }
    CHECK(spans >= 2);
}

TEST_CASE("minutes of a hold lie within it, however short it is", "[draw]") {
    const auto at = [](double s) { return Instant::from_unix_s(1'770'000'000 + s); };
    const auto minutes = [&](double from, double to) {
        std::vector<double> out;
        for (const Instant t : study::minutes_of_hold({at(from), at(to), false, false}))
            out.push_back(t.unix_s() - 1'770'000'000);
        return out;
    };
    using Minutes = std::vector<double>;
    CHECK(minutes(1, 3599) == Minutes{60, 1800, 3540});
    CHECK(minutes(0, 120) == Minutes{0, 60, 120});
    CHECK(minutes(1, 70) == Minutes{60});
    CHECK(minutes(1, 130) == Minutes{60, 120});
    CHECK(minutes(2, 58) == Minutes{30});
}

TEST_CASE("a section says whether the mark is lit and where a building stands", "[draw]") {
    std::size_t dark = 0, lit = 0, beside = 0;
    for (const auto& [name, date] : {std::pair{"tallow-lane", site::LocalDate{2026_y / 2 / 14}},
                                     {"flax-road", 2026_y / 3 / 10}}) {
        const Prepared p = example(name, date);
        const study::RoomStudy& study = *p.room();
        for (std::size_t w = 0; w < study.room().windows.size(); ++w)
            for (std::size_t m = 0; m < study.room().marks.size(); ++m) {
                if (!study::lets_sun_in(study.room().windows[w]) || !study.scene().faces(w, m))
                    continue;
                const auto sun =
                    study::window_sun(study, w, clock(p, 0), clock(p, 0) + Seconds{86400});
                const auto hours = study::hours_of_sun(sun, p.location.site.zone);
                bool is_lit = false;
                for (const Instant t : hours)
                    for (const study::MarkCoverage& c : study::patches_at(study, t).coverages)
                        is_lit = is_lit || (c.mark == m && c.window == w);
                const std::string svg =
                    draw::draw_section(study, {p.date, w, m, hours, {}}, {180, "section", false});
                CAPTURE(name, w, m, hours.size());
                const std::string words = words_of(svg);
                CHECK(holds(words, "in this plane"));
                CHECK(holds(words, "not lit through this window") == !is_lit);
                (is_lit ? lit : dark) += 1;
                beside += holds(words, "the sun stands to its side") ? 1 : 0;
            }
    }
    CHECK(lit > 0);
    CHECK(dark > 0);
    CHECK(beside > 0);
}

TEST_CASE("the slider's line lies behind the strip's words", "[draw]") {
    const Prepared p = example("tallow-lane", 2026_y / 2 / 14);
    const auto strip = study::day_strip(p.location, p.room(), p.shared, p.date);
    for (const double width : {180.0, 92.0}) {
        const std::string svg = draw::draw_strip(p.there(), strip, {width, "strip", false}).svg;
        const std::size_t line = svg.find("<g id=\"strip-now\"");
        REQUIRE(line != std::string::npos);
        CHECK(svg.find("<text ") > line);
    }
}

TEST_CASE("a spot's light to shoot in is not drawn as what is possible", "[draw]") {
    Prepared p = example("tallow-lane", 2026_y / 2 / 14);
    p.location.room.reset();
    const auto strip = study::day_strip(p.location, nullptr, p.shared, p.date);
    REQUIRE(!strip.spots.empty());
    const std::string svg = draw::draw_strip(p.location, strip, {180, "strip", false}).svg;
    CHECK(holds(svg, "outside: light to shoot in"));
    CHECK_FALSE(holds(svg, "stroke-dasharray=\"0.8 0.5\""));
}

TEST_CASE("a crew that tapes in feet finds no metre in its drawings", "[draw]") {
    const Prepared p = example("tallow-lane", 2026_y / 2 / 14);
    const auto strip = study::day_strip(p.location, p.room(), p.shared, p.date);
    const std::regex metric{"[0-9] m2?\\b|[0-9]\\.[0-9][0-9]\\b|[Mm]etre"};
    const auto drawn = [&](site::Units units) {
        const draw::DrawingFrame frame{180, "f", false, units};
        const draw::SectionContent section{
            p.date, 0, 0, {clock(p, 14)}, draw::stands_of(p.location)};
        return std::vector<std::string>{
            draw::draw_plan(p.there(), p.room(), {p.date, {clock(p, 13)}, strip.covers}, frame).svg,
            draw::draw_section(*p.room(), section, frame)};
    };
    for (const std::string& svg : drawn(site::Units::feet)) {
        std::string all = words_of(svg);
        const std::size_t told = svg.find("<desc");
        all += svg.substr(told, svg.find("</desc>") - told);
        std::smatch found;
        CAPTURE(all);
        CHECK_FALSE(std::regex_search(all, found, metric));
        CHECK(holds(all, "Feet and inches"));
    }
    for (const std::string& svg : drawn(site::Units::metres))
        CHECK(std::regex_search(words_of(svg), metric));
    // 1.40 x 1.60 m with a sill of 0.85, by 0.0254 m an inch: 55.1, 63.0 and 33.5 in.
    const std::string plan = words_of(drawn(site::Units::feet)[0]);
    CHECK(holds(plan, "4 ft 7 in x 5 ft 3 in"));
    CHECK(holds(plan, "sill 2 ft 9 1/2 in"));
}

TEST_CASE("names make words for files", "[draw]") {
    CHECK(draw::file_word("Press window") == "press-window");
    CHECK(draw::file_word("../..//etc") == "etc");
    CHECK(draw::file_word("\xC3\x84") == "unnamed");
}
