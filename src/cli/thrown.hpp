#pragma once
// What a question's work throws: nothing, unless memory ends or the program is wrong.

#include <exception>
#include <functional>
#include <string>

namespace keyhour::cli {

/// Does the work, and returns what that threw; null if it came to its end. In a program whose parts
/// cannot be unwound (src/cross/small.cmake) nothing comes back from a throw: there
/// say_what_ends_it has the last word.
[[nodiscard]] std::exception_ptr thrown_by(const std::function<void()>& work);

/// @param thrown  not null
[[nodiscard]] bool is_out_of_memory(const std::exception_ptr& thrown);

/// "not enough memory for this question", or "an error inside the program: WHAT".
/// @param thrown  not null
[[nodiscard]] std::string fault_words(const std::exception_ptr& thrown);

/// From now on what nobody catches is said on standard error, as fault_words has it, and ends the
/// program with the exit code for bad data.
void say_what_ends_it() noexcept;

}  // namespace keyhour::cli
