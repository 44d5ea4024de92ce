#pragma once
/// @file
/// `match` as JSON and CSV. Schema: tests/schema/match.schema.json.

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "document.hpp"
#include "tell/match_page.hpp"

namespace keyhour::tell {

/// All of it beside what start_document gives.
[[nodiscard]] Json json_of(const ask::MatchAnswer& answer, const MatchQuestion& q);

/// A record for each span that agrees, and one for each date without, which says what came nearest.
[[nodiscard]] std::string match_csv(const ask::MatchAnswer& answer, const MatchQuestion& q);

}  // namespace keyhour::tell
