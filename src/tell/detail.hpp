#pragma once
/// @file
/// Parts of an answer that are told only when they are asked for: one list for every command
/// (`--show`). What is not named here belongs to every answer.

#include <array>
#include <initializer_list>

namespace keyhour::tell {

enum class Detail : unsigned {
    levels,        ///< of light: illuminance, ratio, colour, meter, cloud and covers
    doubt,         ///< how every figure may be off, and what that does to the answer
    haze,          ///< a beam in haze
    misses,        ///< what failed: windows without a key, with the reason and what came nearest
    readback,      ///< what was understood of place, clocks, horizon and all walls
    hours,         ///< hour by hour
    countdown,     ///< of a place outside: level and stop every ten minutes, to the light's end
    corners,       ///< of every patch, to be chalked on the floor
    observations,  ///< of a bearing: what each was understood to say, and its height's check
    shifts,        ///< of the clock: every error of it that was tried
    next,          ///< what could be observed next, all of it
};

struct DetailWord {
    Detail detail;
    const char* word;
};

/// In the order in which they are listed.
inline constexpr std::array detail_words{
    DetailWord{Detail::levels, "levels"},
    DetailWord{Detail::doubt, "doubt"},
    DetailWord{Detail::haze, "haze"},
    DetailWord{Detail::misses, "misses"},
    DetailWord{Detail::readback, "readback"},
    DetailWord{Detail::hours, "hours"},
    DetailWord{Detail::countdown, "countdown"},
    DetailWord{Detail::corners, "corners"},
    DetailWord{Detail::observations, "observations"},
    DetailWord{Detail::shifts, "shifts"},
    DetailWord{Detail::next, "next"},
};

/// A set of details.
class Details {
public:
    constexpr Details() = default;
    constexpr Details(std::initializer_list<Detail> details) {
        for (const Detail d : details)
            add(d);
    }
    constexpr void add(Detail d) { bits_ |= bit(d); }
    [[nodiscard]] constexpr bool has(Detail d) const { return (bits_ & bit(d)) != 0; }
    [[nodiscard]] constexpr bool none() const { return bits_ == 0; }

private:
    static constexpr unsigned bit(Detail d) { return 1U << static_cast<unsigned>(d); }
    unsigned bits_ = 0;
};

}  // namespace keyhour::tell
