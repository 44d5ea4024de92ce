#pragma once
/// @file
/// The parts of a location file, each read from its table.

#include "fields.hpp"
#include "keyhour/site/location.hpp"

namespace keyhour::read {

/// Files that [site] names and that are read when all else is: they need to know the plan.
struct SurroundingFiles {
    struct Terrain {
        std::string path;
        double beyond_m = 0;
        TextPlace at;
    };
    struct Buildings {
        std::string path, height_property;
        double within_m = 0;
    };
    std::optional<Terrain> terrain;
    std::optional<Buildings> buildings;
    bool elevation_given = false;  // else the terrain tells it
};

/// [site]; what could not be read keeps its default and is in the findings.
void read_site(Fields& root, site::Location& location, Findings& findings, SurroundingFiles& files);

/// `horizon` and `buildings` of [site].
void read_site_surroundings(Fields& fields, site::Site& site, Findings& findings,
                            std::vector<std::string>& questions, SurroundingFiles& files);

/// [room], [[window]], [[mark]], [[camera]], [[object]], and [[building]] and [[tree]], which can
/// stand without a room. What looks odd goes to the location's questions.
/// @pre location.site has been read
void read_room(Fields& root, site::Location& location, Findings& findings);

/// One [[tree]].
[[nodiscard]] site::Tree read_tree(Fields& fields, const std::string& name);

/// [[spot]]
[[nodiscard]] std::vector<site::Spot> read_spots(Fields& root, Findings& findings);

/// [[lamp]], with the photometric files that they name.
/// @pre location.room and the buildings have been read
void read_lamps(Fields& root, site::Location& location, Findings& findings);

/// [lock]
/// @pre the room and the lamps have been read
void read_lock(Fields& root, site::Location& location, Findings& findings);

/// The buildings and the terrain from the files that [site] names.
/// @pre nothing was complained about so far
void read_files(const SurroundingFiles& files, site::Location& location, Findings& findings);

/// A position in any form that GeoCoords reads, or a complaint.
[[nodiscard]] std::optional<Observer> read_position(Fields& fields, Need need);

}  // namespace keyhour::read
