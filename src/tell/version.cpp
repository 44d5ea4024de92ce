#include "keyhour/version.hpp"

namespace keyhour {

const char* version() noexcept {
    return KEYHOUR_VERSION;
}

}  // namespace keyhour
