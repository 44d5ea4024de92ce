#include "reader.hpp"

KEYHOUR_FUZZ_READER(text) {
    const auto read = keyhour::read::read_location_text(text, "fuzzed.toml");
    if (!read) (void)keyhour::read::text(read.error());
}
