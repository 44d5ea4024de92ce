#include <algorithm>

#include "reader.hpp"

// Each line is a change to the example.
KEYHOUR_FUZZ_READER(text) {
    static const std::string file =
        *keyhour::read::location_text(KEYHOUR_LOCATIONS "/tallow-lane.toml");
    keyhour::read::Changes changes;
    while (!text.empty() && changes.size() < 4) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        changes.push_back({std::string{text.substr(0, end)}});
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    const auto read = keyhour::read::read_location_text(file, "fuzzed.toml", changes);
    if (!read) (void)keyhour::read::text(read.error());
}
