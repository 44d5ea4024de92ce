#pragma once
// Zones are read once a run (Zone::named); here that is taken back.

namespace keyhour::site {

/// The next Zone::named reads each zone again.
void forget_zones();

}  // namespace keyhour::site
