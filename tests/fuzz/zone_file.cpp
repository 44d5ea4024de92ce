#include "reader.hpp"
#include "site/tzif.hpp"

KEYHOUR_FUZZ_READER(text) {
    (void)keyhour::site::fault_of_zone_file(text);
    (void)keyhour::site::last_line_of_zone_file(text);
    (void)keyhour::site::zone_in(text);
}
