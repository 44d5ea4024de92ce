#pragma once
// Where: a location file, or a position and a zone typed in its place.

#include <string>
#include <vector>

#include "change_option.hpp"
#include "date_options.hpp"
#include "failure.hpp"
#include "keyhour/site/location.hpp"
#include "keyhour/site/recce.hpp"
#include "shown_names.hpp"

namespace keyhour::cli {

class Options;

struct SiteOptions {
    std::string location;  // file
    std::string position, zone;
    double elevation_m = 0;
    std::string units;
    ChangeOption what_if;

    void offer(Options& command);

    [[nodiscard]] bool is_given() const {
        return !location.empty() || !position.empty() || !zone.empty();
    }

    /// How it was measured, and the units that its crew reads.
    [[nodiscard]] Answer<site::Recce> recce() const;

    /// The location read and checked; without a file, its name is the position as typed.
    [[nodiscard]] Answer<site::Location> read(Names names) const;
};

/// The read-back of a question about a site, and "today" where no date was given.
[[nodiscard]] std::vector<std::string> site_read_back(const site::Location& location,
                                                      const DateRange& dates,
                                                      site::Units units = site::Units::metres);

}  // namespace keyhour::cli
