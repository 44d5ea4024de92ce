#include "read/shoot_file.hpp"
#include "reader.hpp"

KEYHOUR_FUZZ_READER(text) {
    // Beside the example's places, so that the scenes' own checks are reached.
    const auto read =
        keyhour::read::read_shoot_text(text, KEYHOUR_LOCATIONS "/bindery-and-wharf/fuzzed.toml");
    if (!read) (void)keyhour::read::text(read.error());
}
