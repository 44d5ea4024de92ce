#pragma once
/// @file
/// `lamp` in words: where it must stand, what it gives at the mark beside the sun that it stands in
/// for, and the fill.

#include <string>

#include "keyhour/study/lamp_report.hpp"
#include "tell/detail.hpp"
#include "tell/opening.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// What was asked and found.
struct LampAnswer {
    const study::LampReport& report;
    const study::LampQuestion& question;
    const study::RoomStudy& study;
    site::Recce recce;
    Details show;
};

[[nodiscard]] Paragraphs lamp_page(const LampAnswer& answer);

/// The stand in one line of at most 140 characters.
[[nodiscard]] std::string lamp_message(const LampAnswer& answer);

}  // namespace keyhour::tell
