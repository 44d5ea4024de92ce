#pragma once
/// @file
/// From which side a light comes, in the words of every answer.

#include <string>

namespace keyhour::study {

/// "light from the subject's left": the side of somebody at the mark who looks at the camera, which
/// is the other one as the camera sees it.
/// @param from_right  of the camera as seen from the mark: a key angle above 0
[[nodiscard]] std::string light_side_in_words(bool from_right);

}  // namespace keyhour::study
