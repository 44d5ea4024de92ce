#pragma once
/// @file
/// The light sheet as a list of spans of time: what calendar and spreadsheet have in common.

#include <optional>
#include <string>
#include <vector>

#include "sheet_content.hpp"

namespace keyhour::tell {

struct EventPlace {
    std::string name;
    Observer at;
};

struct SheetEvent {
    enum class Kind {
        day,
        sun_in,
        lock,
        key,
        cover,
        hang,
        direct,
        wanted,
        late_light,
        rigging,
        scene
    };
    Kind kind = Kind::day;  ///< hang: the last minutes before a cloth must be in its window
    site::LocalDate date;
    std::string what;  ///< "Key: type case through case window"
    std::string mark, camera, window, spot;
    study::Span span;                       ///< of an instant both ends are the same
    std::optional<study::Span> sure;        ///< of a key or of sun through a window
    std::optional<study::HoldDoubt> doubt;  ///< of a key
    std::optional<Instant> latest;          ///< start of the set-up at a spot
    std::string detail;                     ///< in words; can be empty
    std::optional<EventPlace> place;        ///< where it is not the location itself
    std::size_t number = 1;                 ///< among those alike of the date, by time
};

/// "key", "late_light": as the spreadsheet and the calendar's UIDs name it.
[[nodiscard]] const char* name(SheetEvent::Kind kind) noexcept;

/// By kind, then by time. A key that exists only at some bearings is left out.
[[nodiscard]] std::vector<SheetEvent> sheet_events(const SheetContent& content);

/// RFC 4180: one record an event.
[[nodiscard]] std::string sheet_csv(const std::vector<SheetEvent>& events,
                                    const site::Location& location);

}  // namespace keyhour::tell
