#pragma once
/// @file
/// What this program was built by and for. No date and no path, so that two builds are the same.

#include <string>

namespace keyhour::tell {

struct BuildFacts {
    std::string compiler;            ///< "GCC 12.2.0"
    std::string type;                ///< "Release"
    std::string system;              ///< "Linux x86_64"
    bool reads_any_geotiff = false;  ///< built with GDAL
};

[[nodiscard]] BuildFacts build_facts();

}  // namespace keyhour::tell
