#include "read/light_log.hpp"

#include "reader.hpp"

KEYHOUR_FUZZ_READER(text) {
    const auto log = keyhour::read::read_light_log_text(text, "fuzzed.log");
    if (log) (void)keyhour::read::text(log->problems);
    // A line that is added to what is a log can be read there, whatever stands before it.
    const auto added = keyhour::read::next_log_line(
        text, "fuzzed.log", "{ at = 2026-02-17T13:42:00, place = \"a.toml\", mark = \"last\" }");
    if (!added) return;
    const auto again = keyhour::read::read_light_log_text(std::string{text} + *added, "fuzzed.log");
    if (!again || again->shots.empty() || again->shots.back().mark != "last") __builtin_trap();
}
