#pragma once
// What libFuzzer calls, for a reader that takes a text: it may refuse anything, and never falls.

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "read/location_file.hpp"

#define KEYHOUR_FUZZ_READER(text)                                                    \
    static void read_fuzzed(std::string_view text);                                  \
    extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t n) { \
        read_fuzzed({reinterpret_cast<const char*>(data), n});                       \
        return 0;                                                                    \
    }                                                                                \
    static void read_fuzzed(std::string_view text)

/// A place with two walls and a window to name, for what is read beside one.
inline const keyhour::site::Location& fuzzed_place() {
    static const auto place = keyhour::read::read_location(KEYHOUR_LOCATIONS "/tallow-lane.toml");
    if (!place) {
        std::fputs(KEYHOUR_LOCATIONS "/tallow-lane.toml cannot be read\n", stderr);
        std::exit(2);
    }
    return *place;
}
