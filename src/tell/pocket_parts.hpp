#pragma once
/// @file
/// What the pocket page carries word for word: src/tell/pocket.

#include <string_view>

namespace keyhour::tell {

[[nodiscard]] std::string_view pocket_body();
[[nodiscard]] std::string_view pocket_style();
[[nodiscard]] std::string_view pocket_script();
/// "sha256-...": as a content security policy names them.
[[nodiscard]] std::string_view pocket_style_hash();
[[nodiscard]] std::string_view pocket_script_hash();

}  // namespace keyhour::tell
