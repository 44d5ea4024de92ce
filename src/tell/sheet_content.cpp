#include "sheet_content.hpp"

namespace keyhour::tell {

std::optional<LampKey> lamp_key(const SheetContent& c) {
    if (!c.room || !c.day.strip.planned) return std::nullopt;
    return LampKey{*c.day.strip.planned, *c.room, c.rigging.overlap_m, c.units};
}

}  // namespace keyhour::tell
