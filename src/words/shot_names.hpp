#pragma once
/// @file
/// The key of a logged shot, as log, JSON and people say it.

#include "keyhour/study/logged_shot.hpp"
#include "words/names.hpp"

namespace keyhour::words {

inline constexpr std::array shot_key_names{"sun", "lamp", "sky"};

[[nodiscard]] constexpr const char* name(study::ShotKey key) {
    return shot_key_names[static_cast<std::size_t>(key)];
}
static_assert(name(study::ShotKey::sky) == shot_key_names.back());

}  // namespace keyhour::words
