#pragma once
/// @file
/// The location file: TOML, or its data model as a line of JSON; a checked location out, or all
/// that is wrong with it.

#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "changes.hpp"
#include "keyhour/site/location.hpp"
#include "problem.hpp"

namespace keyhour::read {

template <class T>
using Read = tl::expected<T, std::vector<Problem>>;

/// A location file is a page or two; what is larger than this is not one.
inline constexpr std::size_t largest_location_bytes = std::size_t{4} << 20U;

/// Reads and checks a location file.
/// @param path  a readable file; a folder, an empty file or one above the size limit is a problem
/// @param changes  asked about without an edit; the location's name says them
/// @return the location with its questions, or every problem in it, ascending by line
[[nodiscard]] Read<site::Location> read_location(const std::string& path,
                                                 const Changes& changes = {});

/// The file's bytes, or why it can't be read: read_location without the reading.
[[nodiscard]] tl::expected<std::string, Problem> location_text(const std::string& path);

/// The same for a text in memory.
/// @param name  how problems call it
[[nodiscard]] Read<site::Location> read_location_text(std::string_view text,
                                                      const std::string& name,
                                                      const Changes& changes = {});

/// The same for one line of newline-delimited JSON: an object with the location file's tables as
/// its members, lists of objects where the file has [[tables]].
/// @param name  how problems call the line, such as "line 7 of standard input"; they add the path
///              of the value, "window[2].sill_m", counted from 0 as in RFC 9535
[[nodiscard]] Read<site::Location> read_location_json(std::string_view line,
                                                      const std::string& name,
                                                      const Changes& changes = {});

}  // namespace keyhour::read
