#pragma once
/// @file
/// Which rooms a long run by brute force looks at: KEYHOUR_ROOMS of them (300) from
/// KEYHOUR_FIRST_ROOM (1) on.

#include <cstdint>
#include <cstdlib>
#include <utility>

namespace keyhour::test {

/// @return  first and last
inline std::pair<std::uint64_t, std::uint64_t> asked_rooms() {
    const auto asked = [](const char* name, std::uint64_t otherwise) {
        const char* const text = std::getenv(name);
        return text ? std::strtoull(text, nullptr, 10) : otherwise;
    };
    const std::uint64_t first = asked("KEYHOUR_FIRST_ROOM", 1);
    return {first, first + asked("KEYHOUR_ROOMS", 300) - 1};
}

}  // namespace keyhour::test
