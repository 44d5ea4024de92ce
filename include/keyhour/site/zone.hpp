#pragma once
/// @file
/// A site's clock: an IANA zone by name, or a POSIX TZ string for machines without zone files.

#include <date/date.h>

#include <chrono>
#include <memory>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "keyhour/sun/instant.hpp"

namespace keyhour::site {

/// A local date or date and time of day, without zone.
using LocalDate = date::year_month_day;
using LocalTime = date::local_time<std::chrono::seconds>;

/// The clock at one instant.
struct ClockReading {
    LocalTime local;  ///< whole seconds, rounded down
    std::chrono::seconds utc_offset{};
    std::string abbreviation;
    bool daylight_saving = false;
};

/// Why a local time has no single instant.
struct ClockProblem {
    enum class Kind { skipped, repeated } kind = Kind::skipped;
    std::string message;  ///< names both readings, with their offsets
};

class Zone {
public:
    /// An IANA name ("Europe/London") or a POSIX TZ string ("GMT0BST,M3.5.0/1,M10.5.0").
    /// @return the zone, or a message that says what is wrong and names the nearest known zone
    /// Read once a run; may be called from many threads.
    [[nodiscard]] static tl::expected<Zone, std::string> named(const std::string& text);

    /// UTC itself.
    Zone();

    [[nodiscard]] const std::string& name() const noexcept;
    [[nodiscard]] ClockReading at(Instant t) const;

    /// The instant of a local time; skipped and repeated times are problems that name both
    /// readings.
    [[nodiscard]] tl::expected<Instant, ClockProblem> instant(LocalTime local) const;

    /// First instant of a local date (00:00, or the first time that exists).
    [[nodiscard]] Instant start_of(LocalDate day) const;

    struct Rules;  // IANA or POSIX

private:
    [[nodiscard]] static tl::expected<Zone, std::string> read(const std::string& text);

    std::string name_;
    std::shared_ptr<const Rules> rules_;
};

}  // namespace keyhour::site
