#pragma once
/// @file
/// An answer's rank among many, as the last member or column of its records.

#include <cstddef>
#include <string>

namespace keyhour::tell {

/// The record of names with a column for the rank. @param plain  with its line end
[[nodiscard]] std::string ranked_csv_head(std::string plain);

/// @param records  lines with their ends, as the batch documents give them; names hold none
/// @param rank     from 1
[[nodiscard]] std::string ranked_csv(const std::string& records, std::size_t rank);
[[nodiscard]] std::string ranked_json(const std::string& line, std::size_t rank);

}  // namespace keyhour::tell
