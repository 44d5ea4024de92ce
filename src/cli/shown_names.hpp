#pragma once
// Names as a location's file has them, or as a text for people shows them.

#include <optional>
#include <string>
#include <vector>

#include "failure.hpp"
#include "keyhour/site/location.hpp"

namespace keyhour::cli {

/// JSON keeps what the file says; tables, pages and drawings get every name made safe for the line
/// that it stands in, once and for all, where the location is read.
enum class Names { raw, shown };

[[nodiscard]] inline Names names_for(bool json) {
    return json ? Names::raw : Names::shown;
}

/// The location with every name, and every question that may quote one, as words::shown has it.
[[nodiscard]] site::Location with(Names names, site::Location location);

/// Which of the names the user asked for on the command line, raw or as shown. Nothing if none was
/// asked for; a message with the nearest one, or all, if there is no such name.
[[nodiscard]] Answer<std::optional<std::size_t>> index_of(const char* option,
                                                          const std::string& asked,
                                                          const std::vector<std::string>& names);

/// The same of the named parts of a location.
template <class Things>
[[nodiscard]] Answer<std::optional<std::size_t>> index_of(const char* option,
                                                          const std::string& asked,
                                                          const Things& things) {
    std::vector<std::string> names;
    for (const auto& thing : things)
        names.push_back(thing.name);
    return index_of(option, asked, names);
}

}  // namespace keyhour::cli
