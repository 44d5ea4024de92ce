#pragma once

namespace keyhour {

/// The version that every document carries.
[[nodiscard]] const char* version() noexcept;

}  // namespace keyhour
