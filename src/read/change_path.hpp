#pragma once
/// @file
/// Where in a file's tree a change belongs: a path by the file's own names.

#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "toml.hpp"

namespace keyhour::read {

struct ChangePlace {
    toml::table* table = nullptr;
    std::string key;
    /// Keys below `key` that the file has no table for: they make one.
    std::vector<std::string> below;
};

struct ChangeFault {
    std::string found, accepted;
};

/// Of a [[table]]: its name; of a [[move]] "FROM to TO"; empty if it has none.
[[nodiscard]] std::string name_of(const toml::table& table);

/// Does `path` begin with this name and go on behind a point? The rest of it, else nothing.
[[nodiscard]] std::string_view behind_name(std::string_view path, std::string_view name);

/// @param path  "window.yard light.cover", "yard light.cover", "site.elevation_m"; names with
///              points in quotes or as they are; "bearing" is short for "room.bearing.faces"
[[nodiscard]] tl::expected<ChangePlace, ChangeFault> find_change(toml::table& tree,
                                                                 std::string_view path);

}  // namespace keyhour::read
