#pragma once
/// @file
/// Where must a lamp outside stand in place of the sun, what does it give, and when could it be the
/// key at all?

#include <cstddef>
#include <vector>

#include "keyhour/ask/room_question.hpp"
#include "keyhour/study/found_light.hpp"
#include "keyhour/study/lamp_day.hpp"
#include "keyhour/study/lamp_report.hpp"

namespace keyhour::ask {

struct LampAnswer {
    study::LampQuestion question;           ///< as asked
    std::vector<study::ForgeLight> forges;  ///< at the question's mark
    study::LampReport report;
};

/// study::report_lamp on the first of the dates.
/// @pre indices of the wish are the location's; with `sun_is_key` it has `like` and a window
[[nodiscard]] LampAnswer lamp(const RoomQuestion& question, const study::LampQuestion& wish);

/// Index of the window through which the sun then covers most of the mark; the first of equals.
/// @pre `mark` is one of the room's, `at` lies on the first of the dates
[[nodiscard]] std::size_t sunniest_window(const RoomQuestion& question, std::size_t mark,
                                          Instant at);

/// Spans in which a lamp outside may be the key, date by date; the sun through the windows is found
/// once for each season.
class LampKeys {
public:
    /// @pre the question outlives this
    explicit LampKeys(const RoomQuestion& question);

    /// study::lamp_choices, best first. @pre `date` is one of the question's
    [[nodiscard]] std::vector<study::LampChoice> on(site::LocalDate date,
                                                    const study::LampSettings& settings,
                                                    study::Edges edges);

private:
    study::SeasonalSun sun_;
};

}  // namespace keyhour::ask
