#pragma once
/// @file
/// The readers of a shoot file's parts.

#include "fields.hpp"
#include "keyhour/study/shoot.hpp"
#include "working_hours.hpp"

namespace keyhour::read {

/// What of a shoot was read so far. A place whose location could not be read has no names to refer
/// to, which is no scene's fault.
struct ShootParts {
    study::Shoot shoot;
    std::vector<bool> place_is_sound;  ///< of each place
};

/// Each name of the list under `key`, as an index into `names`; unknown ones are complained about.
[[nodiscard]] std::vector<std::size_t> read_references(Fields& fields, std::string_view key,
                                                       const KnownNames& names);

/// [[scene]], with what they say of each other.
void read_scenes(Fields& root, ShootParts& parts, Findings& findings);

/// What a sound shoot must also be: hours that exist on its days, no order in a circle, locks that
/// a day holds.
void check_shoot(Fields& root, const study::Shoot& shoot, Findings& findings);

}  // namespace keyhour::read
