#pragma once
/// @file
/// What plan's page, JSON and spreadsheet say alike.

#include <string>

#include "keyhour/ask/plan.hpp"

namespace keyhour::tell {

/// A rule of a conflict: "\"walk home\" in its late light".
[[nodiscard]] std::string rule_in_words(const study::Shoot& shoot, const ask::PlanAnswer& answer,
                                        const study::PlanRule& rule);

/// What it would have to give: "work until 20:35 on Tue 10 March 2026".
[[nodiscard]] std::string giving_in_words(const study::Shoot& shoot, const ask::PlanAnswer& answer,
                                          const study::Giving& giving);

/// "no sun key on any of the days"; empty where it has light.
[[nodiscard]] std::string no_light_in_words(const study::Shoot& shoot,
                                            const study::ShootLight& light, std::size_t scene);

/// "lane window 1.90 x 2.10 m by 11:05, store window ...": in metres.
[[nodiscard]] std::string cloth_in_words(const study::Shoot& shoot,
                                         const ask::PlannedScene& planned);

}  // namespace keyhour::tell
