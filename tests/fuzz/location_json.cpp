#include "reader.hpp"

KEYHOUR_FUZZ_READER(text) {
    const auto read = keyhour::read::read_location_json(text, "line 1");
    if (!read) (void)keyhour::read::text(read.error());
}
