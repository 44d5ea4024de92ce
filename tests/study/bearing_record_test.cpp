// Answers of a wall's bearing over recces thrown at random, sound and spoilt, whole.

#include <catch2/catch.hpp>

#include "keyhour/study/bearing.hpp"
#include "recorded.hpp"
#include "thrown_recce.hpp"

using namespace keyhour;
using namespace keyhour::study;

namespace {

/// The answer without its sightings and trials, which records of their own hold.
void add_answer(Record& record, const std::string& label, const Recce& recce,
                BearingQuestion question) {
    const auto answer = bearing_of_wall(recce.location, *recce.path, std::move(question));
    if (!answer) {
        record.add(label + "-refused", answer.error());
        return;
    }
    record.add(label, std::pair{answer->wall, std::pair{answer->faces, answer->plan}});
    record.add("doubt", std::pair{answer->sigma, answer->within_95});
    record.add("other", std::pair{answer->other, answer->is_settled()});
    record.add("fit", std::pair{answer->fit.value_deg,
                                std::pair{answer->fit.sigma_deg, answer->fit.widened}});
    for (const ObservationResult& r : answer->results)
        record.add("seen", r);
    record.add("clock", answer->clock);
    record.add("trials", answer->clock_trials.size());
}

Observation& named(std::vector<Observation>& seen, const std::string& name) {
    for (Observation& o : seen)
        if (o.name == name) return o;
    throw std::runtime_error{name};
}

std::vector<Observation> only(std::vector<Observation> seen,
                              const std::vector<std::string>& names) {
    std::vector<Observation> out;
    for (const std::string& name : names)
        out.push_back(named(seen, name));
    return out;
}

}  // namespace

TEST_CASE("bearings of sound recces are those recorded", "[recorded][bearing]") {
    Record record{"bearing_sound"};
    for (std::uint64_t i = 0; i < 14; ++i) {
        const Recce recce{7100 + i};
        BearingQuestion question{i % 4, recce.noted(0)};
        question.clock_is_checked = i % 3 == 0;
        if (i % 5 == 1) question.clock_within_s = 240;
        add_answer(record, fmt::format("sound-{}", i), recce, question);
    }
    record.check();
}

TEST_CASE("bearings by a wrong clock are those recorded", "[recorded][bearing]") {
    Record record{"bearing_clock"};
    const double fast[] = {3600, -1800, 43200, 900, -600, 5400};
    for (std::uint64_t i = 0; i < 18; ++i) {
        const Recce recce{7200 + i};
        BearingQuestion question{1, recce.noted(fast[i % 6])};
        question.clock_is_checked = i >= 12;
        add_answer(record, fmt::format("clock-{}", i), recce, question);
    }
    record.check();
}

TEST_CASE("bearings of recces with one thing wrong are those recorded", "[recorded][bearing]") {
    Record record{"bearing_spoilt"};
    for (std::uint64_t i = 0; i < 24; ++i) {
        Recce recce{7300 + i};
        auto seen = recce.noted(0);
        const double sense = i % 2 == 0 ? 1 : -1;
        switch (i % 6) {
            case 0:
                for (room::Window& w : recce.location.room->windows)
                    w.sill_m += 0.15 * sense;
                break;
            case 1:
                for (room::Window& w : recce.location.room->windows)
                    w.left_m += 0.3 * sense;
                break;
            case 2:
                std::get<WallBearing>(named(seen, "compass").what).faces =
                    std::get<WallBearing>(named(seen, "compass").what).faces +
                    Angle::degrees(14 * sense);
                break;
            case 3: {
                auto& at = std::get<PatchCorner>(named(seen, "corner").what).time.at;
                at = at + Seconds{1000 * sense};
                break;
            }
            case 4:
                recce.location.room->bearing.faces =
                    recce.location.room->bearing.faces + Angle::degrees(100 * sense);
                recce.location.room->bearing.within = Angle::degrees(i < 12 ? 3 : 60);
                break;
            default: {
                auto& line = std::get<ShadowLine>(named(seen, "shadow").what);
                std::swap(line.from, line.to);
            }
        }
        add_answer(record, fmt::format("spoilt-{}", i), recce, {0, seen, 30, i % 4 == 1});
    }
    record.check();
}

TEST_CASE("bearings of few observations are those recorded", "[recorded][bearing]") {
    Record record{"bearing_few"};
    const std::vector<std::vector<std::string>> few{
        {"corner"}, {"compass"},          {"shadow"},           {"graze"},
        {"map"},    {"corner", "shadow"}, {"compass", "graze"}, {"shadow", "corner", "map"}};
    for (std::uint64_t i = 0; i < 24; ++i) {
        Recce recce{7400 + i};
        auto seen = only(recce.noted(0), few[i % 8]);
        if (i >= 8)
            for (Observation& o : seen) {
                if (auto* graze = std::get_if<Graze>(&o.what)) graze->sun = Graze::Sun::unknown;
                if (auto* map = std::get_if<MapLine>(&o.what)) map->sides_known = false;
                if (auto* line = std::get_if<ShadowLine>(&o.what)) line->from_edge = false;
                if (auto* c = std::get_if<PatchCorner>(&o.what))
                    c->time.at = c->time.at + Seconds{i < 16 ? 800.0 : 6000.0};
            }
        add_answer(record, fmt::format("few-{}", i), recce, {2, seen});
    }
    record.check();
}

TEST_CASE("what gives no bearing is refused in the words recorded", "[recorded][bearing]") {
    Record record{"bearing_refused"};
    const Recce recce{7501};
    add_answer(record, "nothing", recce, {0, {}});
    for (const double off : {90.0, 40.0, -150.0}) {
        auto two = only(recce.noted(0), {"compass", "map"});
        auto& compass = std::get<WallBearing>(two[0].what);
        compass.faces = compass.faces + Angle::degrees(off);
        add_answer(record, "two", recce, {0, two});
        auto either_way = two;
        std::get<MapLine>(either_way[1].what).sides_known = false;
        add_answer(record, "either-way", recce, {0, either_way});
        two.push_back(named(two, "compass"));
        std::get<MapLine>(two[1].what).sides_known = false;
        add_answer(record, "three", recce, {0, two});
        // Two against two, and one with the sun behind its wall.
        auto four = only(recce.noted(0), {"compass", "map", "corner", "graze"});
        std::get<WallBearing>(four[0].what).faces = compass.faces;
        std::get<PatchCorner>(four[2].what).window = 2;
        std::get<PatchCorner>(four[2].what).at = {1.5, 1.5, 0};
        four.push_back(four[0]);
        four[4].place = "recce.toml:12";
        add_answer(record, "four", recce, {0, four, 30, true});
    }
    // Five that say five things: a corner of a window whose wall the sun was behind, two camps.
    for (const int kind : {0, 1, 2}) {
        auto all = only(recce.noted(0), {"compass", "compass", "map", "corner", "shadow"});
        std::get<WallBearing>(all[0].what).faces = Angle::degrees(70);
        std::get<WallBearing>(all[1].what).faces = Angle::degrees(kind == 0 ? 71 : 131);
        auto& corner = std::get<PatchCorner>(all[3].what);
        corner.window = (corner.window + 2) % 4;
        if (kind == 2) std::get<ShadowLine>(all[4].what).from_edge = false;
        add_answer(record, "five", recce, {0, all, 30, true});
        all.erase(all.begin() + 2);
        add_answer(record, "four-of-five", recce, {0, all, 30, true});
    }
    // Two that contradict each other, and a third that is left out: of a wall that the sun was
    // behind, or not.
    for (const std::size_t wall : {0U, 1U, 2U, 3U}) {
        auto three = only(recce.noted(0), {"compass", "compass"});
        auto& faces = std::get<WallBearing>(three[1].what).faces;
        faces = faces + Angle::degrees(12);
        three.push_back({"angle", "",
                         ShadowAngle{wall, true, Angle::degrees(60), Angle::degrees(1),
                                     *time_of(recce.seen[3])}});
        add_answer(record, "behind", recce, {0, three, 30, true});
    }
    // By night, with a clock of which one error would mend it and one of which none would.
    for (const double late : {43200.0, 30000.0, 36000.0, 40000.0}) {
        const auto seen = with_clock_fast(recce.noted(0), -late);
        add_answer(record, "night", recce, {0, seen});
        auto one = only(seen, {"shadow"});
        one[0].place = "recce.toml:7";
        add_answer(record, "one-by-night", recce, {0, one});
        add_answer(record, "checked", recce, {0, one, 30, true});
    }
    record.check();
}

TEST_CASE("the site's own skyline over the sun is told as recorded", "[recorded][bearing]") {
    Record record{"bearing_skyline"};
    Recce recce{7551};
    const Instant t = time_of(named(recce.seen, "shadow"))->at;
    const double altitude = recce.path->at(t).altitude_deg;
    for (const double above : {-3.0, -0.4, 0.1, 0.25, 0.35, 0.5, 1.2, 1.7, 4.0}) {
        const Angle height = Angle::degrees(altitude + above);
        recce.location.site.horizon =
            site::Horizon{{{Angle::degrees(10), height}, {Angle::degrees(190), height}}};
        recce.path = SunPath{recce.location.site, recce.path->shared()};
        const auto answer = bearing_of_wall(recce.location, *recce.path,
                                            {0, only(recce.seen, {"compass", "shadow"}), 30, true});
        REQUIRE(answer);
        record.add("hidden",
                   std::pair{answer->results[0].behind_skyline, answer->results[1].behind_skyline});
    }
    record.check();
}

TEST_CASE("corners timed far off tell what the clock would be as recorded", "[recorded][bearing]") {
    Record record{"bearing_corner_clock"};
    for (std::uint64_t i = 0; i < 4; ++i) {
        const Recce recce{7561 + i};
        for (const double off : {-13000.0, -7300.0, -7100.0, -3000.0, -200.0, 200.0, 3000.0, 7100.0,
                                 7300.0, 13000.0}) {
            // With a compass that hardly says anything, but which way is out.
            auto seen = only(recce.seen, {"corner", "compass"});
            std::get<WallBearing>(seen[1].what).within = Angle::degrees(100);
            auto& at = std::get<PatchCorner>(seen[0].what).time.at;
            at = at + Seconds{off};
            const auto answer = bearing_of_wall(recce.location, *recce.path, {0, seen, 30, true});
            if (answer)
                record.add(fmt::format("off-{}", off), answer->results[0].altitude);
            else
                record.add(fmt::format("off-{}", off), answer.error());
        }
    }
    record.check();
}

TEST_CASE("the sun over all observations is known for the days recorded", "[recorded][bearing]") {
    Record record{"bearing_track"};
    const Recce recce{7601};
    const auto add = [&](const std::vector<Observation>& seen) {
        const auto track = track_over(seen);
        record.add("track", std::pair{track->track().from(), track->track().to()});
    };
    add({});
    add(only(recce.seen, {"compass"}));
    add(only(recce.seen, {"shadow"}));
    auto seen = only(recce.seen, {"shadow", "corner", "graze"});
    add(seen);
    std::get<Graze>(seen[2].what).time.at = std::get<Graze>(seen[2].what).time.at + Seconds{9e6};
    add(seen);
    std::get<Graze>(seen[2].what).time.at = std::get<Graze>(seen[2].what).time.at - Seconds{1.8e7};
    add(seen);
    std::get<Graze>(seen[2].what).time.at = Instant::from_unix_s(1e11);
    record.add("never", track_over(seen) == nullptr);
    record.check();
}
