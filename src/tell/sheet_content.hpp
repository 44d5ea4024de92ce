#pragma once
/// @file
/// What the papers of the light sheet are about: one date of one location.

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

}  // namespace keyhour::tell
