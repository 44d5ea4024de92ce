#pragma once
/// @file
/// keyhour in one page that needs no network: form, answers and the compiled library itself.

#include <map>
#include <string>
#include <vector>

namespace keyhour::tell {

/// A location that the page opens with.
struct PocketFile {
    std::string name;                             ///< of the file, without folders
    std::string text;                             ///< its TOML; UTF-8
    std::map<std::string, std::string> beside{};  ///< texts of files that it names, by those names
    /// What its terrain gives at its position, as TOML: pairs of bearing and altitude, and the
    /// elevation. Empty where it has no terrain.
    std::string terrain_skyline{}, terrain_elevation{};
};

struct PocketParts {
    std::string library;  ///< the compiled library (WebAssembly), gzipped; bytes
    std::string zones;    ///< JSON: the zones' names and POSIX texts, as the library takes them
    std::vector<PocketFile> locations;
};

/// The whole page, HTML. Nothing that a location says is read as HTML or script, and the page's own
/// policy lets no other style or script in and nothing out.
[[nodiscard]] std::string pocket_page(const PocketParts& parts);

}  // namespace keyhour::tell
