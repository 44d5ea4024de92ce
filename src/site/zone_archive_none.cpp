// In a program for a machine that has zone files.
#include "zone_archive_bytes.hpp"

namespace keyhour::site {

std::string_view zone_archive_bytes() {
    return {};
}

}  // namespace keyhour::site
