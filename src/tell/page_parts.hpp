#pragma once
/// @file
/// What the light sheet's page carries word for word: src/tell/page.

#include <string_view>

namespace keyhour::tell {

[[nodiscard]] std::string_view page_style();
[[nodiscard]] std::string_view page_script();
/// "sha256-...": as a content security policy names them.
[[nodiscard]] std::string_view page_style_hash();
[[nodiscard]] std::string_view page_script_hash();

}  // namespace keyhour::tell
