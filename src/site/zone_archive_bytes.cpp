// In a program for any machine: KEYHOUR_ZONES names what src/cross/zones.sh has written.
#include "zone_archive_bytes.hpp"

#include <cstddef>

asm(".pushsection .rodata\n"
    ".global keyhour_zones, keyhour_zones_end\n"
    "keyhour_zones: .incbin \"" KEYHOUR_ZONES
    "\"\n"
    "keyhour_zones_end: .byte 0\n"
    ".popsection\n");
extern "C" const char keyhour_zones[], keyhour_zones_end[];

namespace keyhour::site {

std::string_view zone_archive_bytes() {
    return {keyhour_zones, static_cast<std::size_t>(keyhour_zones_end - keyhour_zones)};
}

}  // namespace keyhour::site
