#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "compass_reading.hpp"
#include "file/file_contents.hpp"
#include "file/held_files.hpp"
#include "footprints.hpp"
#include "keyhour/site/plan_frame.hpp"
#include "keyhour/site/terrain.hpp"
#include "parts.hpp"
#include "skyline_file.hpp"

namespace keyhour::read {
namespace {

using Pairs = std::vector<std::pair<double, double>>;
using SourceKind = site::HorizonSource::Kind;

constexpr NumberRule bearing_rule{0, 360, " degrees"}, altitude_rule{0, 89, " degrees"};
constexpr LengthRule beyond_rule{0, 5000, false, 5000};
constexpr LengthRule buildings_within_rule{0, 5000, true, 5000};
constexpr double usual_beyond_m = 100, usual_within_m = 1000;
const char* const horizon_form =
    "accepted: one of survey = [[bearing, altitude], ...], file = \"skyline.csv\", terrain = "
    "\"folder\"";

class SiteSurroundings {
public:
    SiteSurroundings(site::Site& site, Findings& findings, std::vector<std::string>& questions,
                     SurroundingFiles& files)
        : site_{site}, findings_{findings}, questions_{questions}, files_{files} {}

    void read_horizon(Fields& fields) {
        if (!fields.holds_table("horizon")) {
            if (const auto pairs = fields.pairs("horizon", bearing_rule, altitude_rule))
                set_horizon(fields, "horizon", *pairs, {});
            return;
        }
        const auto* table = fields.table("horizon", Need::optional, horizon_form);
        Fields f{*table, "horizon", findings_};
        const int given = f.has("survey") + f.has("file") + f.has("terrain");
        if (given != 1)
            fields.complain_missing(
                "horizon",
                given == 0 ? "the horizon has no source" : "the horizon has more than one source",
                horizon_form);
        read_measured(f);
        read_terrain(f);
        f.refuse_unknown();
    }

    void read_buildings(Fields& fields) {
        SurroundingFiles::Buildings wish{{}, "height", usual_within_m};
        if (!fields.holds_table("buildings")) {
            const auto path = fields.text("buildings", Need::optional, "footprints.geojson");
            if (!path) return;
            wish.path = *path;
        } else {
            const auto* table = fields.table("buildings", Need::optional, "");
            Fields f{*table, "buildings of [site]", findings_};
            wish.path = f.text("file", Need::required, "footprints.geojson").value_or("");
            wish.height_property =
                f.text("height", Need::optional, "height").value_or(wish.height_property);
            wish.within_m =
                f.length("within_m", Need::optional, buildings_within_rule).value_or(wish.within_m);
            f.refuse_unknown();
        }
        files_.buildings = wish;
    }

private:
    /// Bearings as they were read, by a compass or on a map: from the file itself or a CSV.
    void read_measured(Fields& f) {
        const bool measured = f.has("survey") || f.has("file");
        const auto pairs = f.pairs("survey", bearing_rule, altitude_rule);
        const auto path = f.text("file", Need::optional, "skyline.csv");
        const auto north =
            f.choice("north", measured ? Need::required : Need::optional, {"true", "magnetic"});
        const auto day = f.date("measured", Need::optional);
        if (f.has("terrain") && f.has("north"))
            f.complain("north", f.shown("north") + " beside terrain",
                       "terrain is laid out by true north");
        if (!measured || !north || (f.has("measured") && !day)) return;
        site::HorizonSource source;
        source.kind = path ? SourceKind::file : SourceKind::survey;
        source.magnetic = *north == 1;
        if (source.magnetic) {
            const auto reading = compass_reading(site_.observer, day, "horizon");
            if (!reading) {
                f.complain(day ? "measured" : "north", reading.error(),
                           "write true bearings, with north = \"true\"");
                return;
            }
            source.declination = reading->declination;
            if (reading->question) questions_.push_back(*reading->question);
        }
        if (path) {
            auto read = read_skyline_csv(file::path_beside(findings_.folder(), *path));
            if (read)
                set_horizon(f, "file", *read, source);
            else
                for (Problem& problem : read.error())
                    findings_.add(std::move(problem));
        } else if (pairs) {
            set_horizon(f, "survey", *pairs, source);
        }
    }

    void read_terrain(Fields& f) {
        const auto path = f.text("terrain", Need::optional, "terrain");
        const auto beyond = f.length("beyond_m", Need::optional, beyond_rule);
        if (f.has("beyond_m") && !f.has("terrain"))
            f.complain("beyond_m", f.shown("beyond_m") + " without terrain",
                       "it says from where on terrain is looked at");
        if (!path) return;
        files_.terrain = {*path, beyond.value_or(usual_beyond_m), f.place("terrain")};
    }

    void set_horizon(Fields& fields, const char* key, const Pairs& pairs,
                     const site::HorizonSource& source) {
        std::vector<site::HorizonPoint> points;
        std::vector<double> bearings;
        for (const auto& [bearing, altitude] : pairs) {
            const double wrapped = bearing == 360 ? 0 : bearing;
            if (std::ranges::find(bearings, wrapped) != bearings.end()) {
                fields.complain(key,
                                fmt::format("the horizon has two altitudes at bearing {}", bearing),
                                "each bearing stands once; 0 and 360 are the same");
                return;
            }
            bearings.push_back(wrapped);
            points.push_back({wrapped_turn(Angle::degrees(wrapped) + source.declination),
                              Angle::degrees(altitude)});
        }
        site_.horizon = site::Horizon{std::move(points)};
        site_.horizon_source = source;
    }

    site::Site& site_;
    Findings& findings_;
    std::vector<std::string>& questions_;
    SurroundingFiles& files_;
};

site::Coordinates coordinates_of(const Observer& observer) {
    return {observer.latitude, observer.longitude};
}

void read_buildings(const SurroundingFiles::Buildings& file, site::Location& location,
                    Findings& findings) {
    FootprintWish wish;
    wish.height_property = file.height_property;
    wish.within_m = file.within_m;
    if (location.room) wish.room_floor = location.room->floor;
    for (const room::Building& b : buildings(location))
        wish.taken_names.push_back(b.name);
    auto read =
        read_footprints(file::path_beside(findings.folder(), file.path), site::PlanFrame{location},
                        coordinates_of(location.site.observer), wish);
    if (!read) {
        for (Problem& problem : read.error())
            findings.add(std::move(problem));
        return;
    }
    location.imported_buildings = read->buildings.size();
    for (room::Building& b : read->buildings)
        buildings(location).push_back(std::move(b));
    for (std::string& question : read->questions)
        location.questions.push_back(std::move(question));
}

/// "found; accepted" of another part, at a place of the file.
void complain(Findings& findings, TextPlace at, const std::string& message) {
    const std::size_t end = std::min(message.find("; "), message.size());
    findings.add(at, message.substr(0, end),
                 end < message.size() ? message.substr(end + 2) : std::string{});
}

std::string missing_question(const std::vector<std::string>& missing) {
    std::string names;
    for (std::size_t i = 0; i < std::min<std::size_t>(missing.size(), 4); ++i)
        names += (i == 0 ? "" : ", ") + missing[i];
    if (missing.size() > 4) names += fmt::format(" and {} more", missing.size() - 4);
    return fmt::format("terrain: in sight but not in the folder: {}. Taken as sea: is it?", names);
}

void read_terrain(const SurroundingFiles::Terrain& file, bool elevation_given,
                  site::Location& location, Findings& findings) {
    if (file::HeldFiles::now() != nullptr)
        return findings.add(file.at, "the tiles of the terrain are not here",
                            "a skyline as survey or file; \"keyhour check\" on a computer tells "
                            "the one that the terrain gives");
    const site::Coordinates at = coordinates_of(location.site.observer);
    const auto terrain = site::Terrain::open(file::path_beside(findings.folder(), file.path), at);
    if (!terrain) return complain(findings, file.at, terrain.error());
    const auto skyline = terrain->skyline(at, site::usual_eye_m, file.beyond_m);
    if (!skyline) return complain(findings, file.at, skyline.error());
    site::Site& site = location.site;
    site.horizon = skyline->horizon;
    site.horizon_source = {SourceKind::terrain, false, {}, terrain->grids(), skyline->eye_m};
    if (!skyline->missing.empty()) location.questions.push_back(missing_question(skyline->missing));
    if (skyline->has_voids)
        location.questions.emplace_back(
            "terrain: the grids have voids in sight, which were passed over: a ridge may be "
            "missing; compare the skyline with what you see");
    const double ground = skyline->eye_m - site::usual_eye_m;
    constexpr double odd_m = 50;
    if (!elevation_given)
        site.observer.elevation_m = ground;
    else if (std::abs(ground - site.observer.elevation_m) > odd_m)
        location.questions.push_back(fmt::format(
            "elevation_m = {:.5g}, but the terrain lies at {:.0f} m there: are position "
            "and elevation those of one place?",
            site.observer.elevation_m, ground));
    for (site::Spot& spot : location.spots) {
        const auto own = terrain->skyline(coordinates_of(site::observer_at(location, spot)),
                                          spot.eye_m, file.beyond_m);
        if (!own)
            return complain(findings, file.at,
                            fmt::format("spot \"{}\": {}", spot.name, own.error()));
        spot.horizon = own->horizon;
    }
}

}  // namespace

void read_site_surroundings(Fields& fields, site::Site& site, Findings& findings,
                            std::vector<std::string>& questions, SurroundingFiles& files) {
    SiteSurroundings reader{site, findings, questions, files};
    reader.read_horizon(fields);
    reader.read_buildings(fields);
}

void read_files(const SurroundingFiles& files, site::Location& location, Findings& findings) {
    if (files.buildings) read_buildings(*files.buildings, location, findings);
    if (files.terrain) read_terrain(*files.terrain, files.elevation_given, location, findings);
}

}  // namespace keyhour::read
