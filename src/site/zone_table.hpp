#pragma once
// Zones in a table, for where there are no zone files: made of the files of another machine.

#include <string>
#include <vector>

#include "zone_source.hpp"

namespace keyhour::site {

/// From then on until the next one.
struct ZoneChange {
    std::int64_t at_s = 0;  ///< seconds since 1970, UTC
    PosixZone::Offset offset;
};

struct ZoneRow {
    std::string name;
    std::string rule;  ///< POSIX TZ string
    /// Where the clocks go otherwise than by the rule (a month of fasting, say): they hold from the
    /// first on, up to the last; that one is where the rule begins again.
    std::vector<ZoneChange> changes;
    std::optional<ZonePlace> place;
};

/// Years over which a table's changes are listed, first and last included; before and after them
/// the rule alone is known.
inline constexpr int zone_table_first_year = 2020, zone_table_last_year = 2037;

/// Asks zones of the table from now on, no longer of the machine; an empty one gives it back to the
/// machine. Not to be called while another thread asks.
/// @return what is wrong with the first bad row, and then nothing is changed
[[nodiscard]] std::optional<std::string> use_zone_table(std::vector<ZoneRow> rows);

/// The table of a source, such as the machine's zone files.
[[nodiscard]] std::vector<ZoneRow> zone_table_of(const ZoneSource& source);

}  // namespace keyhour::site
