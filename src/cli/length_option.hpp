#pragma once
// A length typed as a flag: metres as a plain number, or with its unit, "4 ft 2 in".

#include <string>

#include "failure.hpp"

namespace keyhour::cli {

/// @param option  its name, for the message
/// @return metres, within least_m to most_m
[[nodiscard]] Answer<double> read_length_option(const char* option, const std::string& text,
                                                double least_m, double most_m);

}  // namespace keyhour::cli
