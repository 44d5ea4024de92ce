#pragma once
/// @file
/// The page of the light sheet: one date of one location as one HTML file that asks nobody for
/// anything. Without its script it shows the same, but for the slider.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/site/rigging.hpp"
#include "keyhour/site/units.hpp"
#include "keyhour/study/sheet_day.hpp"
#include "keyhour/study/stop_wish.hpp"
#include "lamp_key_sentences.hpp"

namespace keyhour::tell {

struct SheetContent {
    const site::Location& location;          ///< as read from its file
    const site::Location& there;             ///< in season, as study::RoomStudy has it
    const study::RoomStudy* room = nullptr;  ///< null without a room
    const study::SheetDay& day;
    const site::Rigging& rigging;
    std::vector<Instant> plan_hours{};     ///< whose patches the plan shows
    std::vector<std::string> read_back{};  ///< what was understood
    study::CameraSetting camera{};         ///< for the stops
    site::Units units = site::Units::metres;
};

/// The planned lock as it is told; nothing without one.
[[nodiscard]] std::optional<LampKey> lamp_key(const SheetContent& content);

/// The same input gives the same bytes. All text from the location is escaped; a content security
/// policy lets nothing in but the page's own style and script, by their hashes.
[[nodiscard]] std::string sheet_page(const SheetContent& content);

/// The answer in one sentence: "Key at type case through case window, 13:00 to 14:20 (1 h 20 min),
/// sure 13:12 to 14:10."
[[nodiscard]] std::string sheet_answer(const SheetContent& content);

}  // namespace keyhour::tell
