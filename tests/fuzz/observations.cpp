#include "read/observation_file.hpp"
#include "reader.hpp"

KEYHOUR_FUZZ_READER(text) {
    const auto read = keyhour::read::read_observations_text(text, "fuzzed.toml", fuzzed_place());
    if (!read) (void)keyhour::read::text(read.error());
}
