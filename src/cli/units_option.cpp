#include "units_option.hpp"

#include "read/read_recce.hpp"

namespace keyhour::cli {

void offer_units(Options& command, std::string& units) {
    command.add_option("--units", units, "ft or m: lengths as you read them")->type_name("UNIT");
}

Answer<site::Recce> recce_of(const std::string& file, const std::string& units,
                             const read::Changes& changes) {
    if (!units.empty() && units != "ft" && units != "m")
        return usage_failure("--units \"" + units +
                             "\": accepted: ft, for feet and inches; m, for metres");
    site::Recce out = file.empty() ? site::Recce{} : read::read_recce(file, changes);
    if (!units.empty()) out.units = units == "ft" ? site::Units::feet : site::Units::metres;
    return out;
}

}  // namespace keyhour::cli
