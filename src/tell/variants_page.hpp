#pragma once
/// @file
/// One question with several answers side by side: the file as it is, and what it would be with
/// each change. In columns, as JSON and as CSV.

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "document.hpp"

namespace keyhour::tell {

struct Variant {
    std::string change;  ///< empty: the file as it is
    Json answer;         ///< as the command writes it with --json
};

/// Lines that are not to be broken: a table of facts, as many columns as fit beside the file's own;
/// then the next ones. @param columns  that a line may take, 40 or more
[[nodiscard]] std::vector<std::string> variants_lines(const std::string& command,
                                                      const std::vector<Variant>& variants,
                                                      std::size_t columns);

/// {"keyhour", "question": "what if", "command", "variants": [{"change", "answer"}]}
[[nodiscard]] Json variants_json(const std::string& command, const std::vector<Variant>& variants);

/// A record a fact: its label, then a field a variant; the first record names the changes.
[[nodiscard]] std::string variants_csv(const std::string& command,
                                       const std::vector<Variant>& variants);

}  // namespace keyhour::tell
