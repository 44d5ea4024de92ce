#pragma once
/// @file
/// Minutes as files give them: a number, or "1 h 30 min"; and minutes by the size of the crew.

#include <optional>
#include <string>
#include <vector>

#include "fields.hpp"
#include "keyhour/site/rigging.hpp"

namespace keyhour::read {

inline constexpr int largest_crew = 50;

/// 90, or "1 h 30 min". @param table  that `fields` reads
[[nodiscard]] std::optional<double> read_minutes(Fields& fields, const toml::table& table,
                                                 const std::string& key, Need need, double least,
                                                 double most);

/// { 1 = 40, 2 = 25 } under `key`: ascending by crew; what more people take is as long or less.
[[nodiscard]] std::vector<site::TaskMinutes> read_minutes_by_crew(Fields& fields,
                                                                  const std::string& key, Need need,
                                                                  Findings& findings);

}  // namespace keyhour::read
