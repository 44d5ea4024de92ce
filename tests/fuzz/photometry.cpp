#include "read/photometric_file.hpp"
#include "reader.hpp"

KEYHOUR_FUZZ_READER(text) {
    const auto read = keyhour::read::read_photometric_text(text, "fuzzed.ies");
    if (!read) (void)keyhour::read::text(read.error());
}
