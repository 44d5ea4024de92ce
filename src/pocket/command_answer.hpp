#pragma once
// The questions that a command of the program answers: its lines, and its JSON document.

#include <optional>
#include <string>
#include <vector>

#include "request.hpp"

namespace keyhour::pocket {

struct CommandAnswer {
    std::vector<std::string> lines;
    std::string document;  ///< as the command writes it; empty where none is wanted
};

/// Does a command answer what is asked?
[[nodiscard]] bool is_command(const std::string& ask);
/// Names of all such questions.
[[nodiscard]] std::vector<std::string> command_questions();

/// @pre is_command(request.ask), and the location's text is held (file/held_files.hpp)
[[nodiscard]] Reply<CommandAnswer> answer_by_command(const Request& request);

}  // namespace keyhour::pocket
