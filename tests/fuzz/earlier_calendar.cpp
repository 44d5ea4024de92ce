#include "reader.hpp"
#include "tell/calendar.hpp"
#include "tell/sheet_events.hpp"

KEYHOUR_FUZZ_READER(text) {
    (void)keyhour::tell::calendar({}, fuzzed_place(), keyhour::Instant::from_unix_s(1771027200),
                                  text);
}
