#pragma once
/// @file
/// Units of length in which a crew tapes and reads. Figures inside are metres.

namespace keyhour::site {

enum class Units { metres, feet };

}  // namespace keyhour::site
