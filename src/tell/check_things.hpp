#pragma once
/// @file
/// Everything that a location file describes, thing by thing: windows, marks, cameras, what stands
/// inside and outside, lamps.

#include "tell/check_page.hpp"

namespace keyhour::tell {

/// Openings, bars, glass, cover and hours of sun of every window.
[[nodiscard]] Paragraphs windows_in_full(const CheckAnswer& answer);

/// Marks, cameras, objects, buildings, trees, places outside.
[[nodiscard]] Paragraphs things_in_full(const CheckAnswer& answer);

/// Lamps with their levels at 5 m.
[[nodiscard]] Paragraphs lamps_in_full(const CheckAnswer& answer);

/// "20 March 9.0 h, 21 June 7.9 h, 21 December 2.7 h"; "none all year".
[[nodiscard]] std::string hours_of_sun(const study::WindowHours& sun, date::year year);

/// "21 June".
[[nodiscard]] std::string day_and_month(site::LocalDate day);

}  // namespace keyhour::tell
