#pragma once
/// @file
/// When may a lamp outside a window be the key? While no direct sun comes in through that window.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/site/zone.hpp"
#include "keyhour/study/lock.hpp"
#include "keyhour/study/sun_in_room.hpp"

namespace keyhour::study {

struct LampSettings {
    Seconds lock{7200};  ///< the span must be this long
    bool as_is = false;  ///< only while no cover is needed: no sun by any open window
    /// Working hours by the site's clock, as time of day; 24:00 is 86400 s. Spans are cut to them.
    /// @pre both name an instant of the date (not skipped or repeated by a change of clocks)
    std::optional<Seconds> earliest, latest;
    std::optional<std::string> mark, camera, window;  ///< only these
};

/// A span without direct sun through the key window.
struct SunFreeSpan {
    std::size_t mark = 0;
    std::optional<std::size_t> camera;
    std::size_t window = 0;
    std::optional<Span> span;  ///< at the stated bearing; none: free at some bearing only
    std::optional<Span> sure;  ///< free at every bearing within the stated doubt
    Span possible;             ///< free at some
    room::LimitingEdge begins_by, ends_by;
    bool whole_day = false;           ///< the local date has no sun through this window at all
    std::vector<CoverToHang> covers;  ///< for the whole span, as leaks_of_lock counts them
    std::vector<CoverSpan> to_cover;  ///< and the minutes of that sun, at some bearing; by window
    /// Of light from the middle of the window, -180..180; positive from the right of the camera as
    /// seen from the mark; none without a camera.
    std::optional<double> key_angle_deg;
    bool window_in_frame = false;  ///< some of the opening stands in the camera's frame
    [[nodiscard]] const Span& told() const { return span ? *span : possible; }

    [[nodiscard]] Seconds hold() const { return span ? span->length() : Seconds{0}; }
    [[nodiscard]] Seconds sure_hold() const { return sure ? sure->length() : Seconds{0}; }
};

/// Are the edges that begin and end each span wanted? They cost more than the rest.
enum class Edges { named, left_out };

/// The spans that belong to one local date, best first: those whose window does not stand in the
/// frame, then those at the usual key angle, then longest sure, longest (both to the minute),
/// nearest the usual key angle, earliest.
///
/// A span belongs to the date of its start and may run into the next date. What already runs at
/// midnight is cut there if `first_of_range`, if it fills the whole date, or if it filled the date
/// before; otherwise it belongs to an earlier date. With working hours every date stands for
/// itself, and its spans are what lies within them. Only windows whose cover is open, since the
/// lamp must shine in, and only those with a straight line to the mark.
/// @pre `sun` reaches from a day before the date to two days after its start; every bearing was
///      asked
[[nodiscard]] std::vector<SunFreeSpan> sun_free_spans(const RoomSun& sun, site::LocalDate date,
                                                      bool first_of_range,
                                                      const LampSettings& settings, Edges edges);

/// The same for one date alone. @pre the study's track reaches as far
[[nodiscard]] std::vector<SunFreeSpan> sun_free_spans(const RoomStudy& study, site::LocalDate date,
                                                      bool first_of_range,
                                                      const LampSettings& settings = {});

}  // namespace keyhour::study
