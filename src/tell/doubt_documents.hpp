#pragma once
/// @file
/// What is told of doubt, as JSON: parts of the documents of key and check.
/// Schemas: tests/schema/key.schema.json, check.schema.json.

#include <string>

#include "document.hpp"
#include "keyhour/site/units.hpp"
#include "keyhour/study/key_doubt.hpp"

namespace keyhour::tell {

/// Adds the ensemble's figures to a key's interval.
void add_doubt(Json& interval, const study::HoldDoubt& doubt);

[[nodiscard]] Json json_of(const study::InputEffect& effect, const room::Room& room);

/// "1 h 15 min or more in 9 of 10 cases, 1 h 20 min in half of them": promised minutes, rounded
/// down.
[[nodiscard]] std::string words(const study::HoldDoubt& doubt);

/// "1 h 15 min or more in 9 of 10 cases", where there is such a promise; else the same as words.
[[nodiscard]] std::string brief_words(const study::HoldDoubt& doubt);

/// "reveal of press window", "place of type case", "bearing".
[[nodiscard]] std::string words(const study::InputEffect& effect, const room::Room& room);

/// "0.075 m", "3 degrees", "10 %": how far the input may be off now.
[[nodiscard]] std::string within_words(const study::InputEffect& effect, site::Units units);

}  // namespace keyhour::tell
