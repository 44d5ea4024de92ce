#pragma once
// What the benchmarks of studies are about.

#include <date/date.h>

#include <cstdlib>
#include <iostream>
#include <string>

#include "keyhour/sun/instant.hpp"
#include "read/location_file.hpp"

namespace keyhour::bench {

/// A benchmark without its location has nothing to measure: it ends the program.
inline site::Location location_of(const std::string& path) {
    auto read = read::read_location(path);
    if (!read) {
        std::cerr << read::text(read.error());
        std::exit(1);
    }
    return *std::move(read);
}

/// The largest of the examples.
inline const site::Location& example() {
    static const site::Location location =
        location_of(std::string{KEYHOUR_LOCATIONS} + "/" + KEYHOUR_BENCH_LOCATION);
    return location;
}

inline Instant new_year(int year) {
    const date::sys_days d{date::year{year} / 1 / 1};
    return Instant::from_unix_s(
        static_cast<double>(std::chrono::seconds{d.time_since_epoch()}.count()));
}

}  // namespace keyhour::bench
