#include "length_rules.hpp"

#include <fmt/format.h>

namespace keyhour::read {

std::string range_of(const LengthRule& rule) {
    return rule.above_least
               ? fmt::format("accepted: more than {} m, up to {} m", rule.least_m, rule.most_m)
               : fmt::format("accepted: {} m to {} m", rule.least_m, rule.most_m);
}

}  // namespace keyhour::read
