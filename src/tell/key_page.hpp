#pragma once
/// @file
/// `key` by the sun in words: the answer first, details where they are asked for.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "keyhour/ask/key.hpp"
#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/found_light.hpp"
#include "keyhour/study/key_doubt.hpp"
#include "keyhour/study/key_light.hpp"
#include "keyhour/study/seasonal_study.hpp"
#include "keyhour/study/stop_wish.hpp"
#include "tell/detail.hpp"
#include "tell/opening.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// What was asked and found.
struct KeyAnswer {
    const site::Location& location;  ///< as on the first date
    site::Recce recce;
    Dates dates;
    std::span<const study::KeyInterval> keys;  ///< those to be told, described, best first
    std::size_t found = 0;                     ///< of them, told or not
    std::span<const study::HoldDoubt> doubts;  ///< of `keys`; empty: not asked for
    /// Of `keys`, or empty: not asked for. Of a range the drift alone, where a camera is given.
    std::vector<std::optional<study::KeyLight>> lights;
    std::vector<std::optional<study::LightDrift>> drifts;
    const std::vector<study::Together>& together;
    const std::vector<study::NearestMiss>& misses;
    study::CameraSetting camera;
    std::span<const ask::DarkKey> dark;  ///< least missing first
    /// Of each window no direct sun in the whole year; what a bearing read facing in would explain.
    std::string reversed;
    Details show;
    /// What was understood, line by line; told on request.
    std::vector<std::string> read_back;
    /// Forges and meter readings, already in `lights` and `drifts`; null where there are none.
    const study::FoundInRoom* found_light = nullptr;
    /// What to measure better; null: not asked for.
    const std::vector<study::InputEffect>* why = nullptr;
};

/// A date: place, date, then each key in a compact block. A range: a row a key.
[[nodiscard]] Paragraphs key_page(const KeyAnswer& answer);

/// One line a key, each of at most 140 characters, to be sent as a message; without a key one line.
[[nodiscard]] std::vector<std::string> key_messages(const KeyAnswer& answer);

}  // namespace keyhour::tell
