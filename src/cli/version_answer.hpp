#pragma once
// "keyhour --version --verbose": what the program was built from, and how old its data is.

#include <iosfwd>
#include <string>
#include <vector>

namespace keyhour::cli {

/// @param arguments  those after --version: --verbose, --json
/// @return the exit code
int answer_version(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err);

}  // namespace keyhour::cli
