#include "tell/build_facts.hpp"

namespace keyhour::tell {

// The definitions are given to this file alone (src/CMakeLists.txt).
BuildFacts build_facts() {
    return {KEYHOUR_COMPILER, KEYHOUR_BUILD_TYPE, KEYHOUR_SYSTEM, KEYHOUR_WITH_GDAL != 0};
}

}  // namespace keyhour::tell
