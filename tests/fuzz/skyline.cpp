#include "read/skyline_file.hpp"
#include "reader.hpp"

KEYHOUR_FUZZ_READER(text) {
    const auto read = keyhour::read::read_skyline_csv_text(std::string{text}, "fuzzed.csv");
    if (!read) (void)keyhour::read::text(read.error());
}
