#pragma once
/// @file
/// An answer in a few facts, each a line: what stands side by side where one question has several
/// answers. They are read from the answer's document, so that they hold for every command.

#include <string>
#include <vector>

#include "document.hpp"

namespace keyhour::tell {

struct AnswerFact {
    std::string label, text;
};

using AnswerFacts = std::vector<AnswerFact>;

/// @param command  "key"
/// @param answer   what it writes with --json
/// @return its facts in their order; labels are alike for alike facts. Names are as the document
///         has them.
[[nodiscard]] AnswerFacts answer_facts(const std::string& command, const Json& answer);

}  // namespace keyhour::tell
