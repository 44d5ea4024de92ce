#pragma once
/// @file
/// A location's room prepared for every season of a range of dates: trees open and close.

#include <memory>
#include <utility>
#include <vector>

#include "keyhour/site/seasons.hpp"
#include "keyhour/study/room_study.hpp"

namespace keyhour::study {

/// The room of a range of dates, prepared once for each state of its trees.
class SeasonalStudy {
public:
    /// @pre location.room holds a room; first <= last
    SeasonalStudy(const site::Location& location, const std::shared_ptr<const SharedTrack>& shared,
                  site::LocalDate first, site::LocalDate last);

    /// Dates over which every tree keeps its state, and the room as it then is. An index into its
    /// buildings means the same thing in every stretch.
    struct Stretch {
        Stretch(const site::Season& of, site::Location there,
                std::shared_ptr<const SharedTrack> shared)
            : season{of}, location{std::move(there)}, study{location, std::move(shared)} {}
        Stretch(const Stretch&) = delete;  // the study looks at this very location
        Stretch& operator=(const Stretch&) = delete;
        ~Stretch() = default;

        site::Season season;
        site::Location location;
        RoomStudy study;
    };
    /// Ascending, one or more; one where there are no trees.
    [[nodiscard]] const std::vector<std::unique_ptr<const Stretch>>& stretches() const noexcept {
        return stretches_;
    }
    /// The room on a date; on one outside the range, as on the nearest in it.
    [[nodiscard]] const RoomStudy& on(site::LocalDate date) const noexcept;
    /// The room at an instant, by the site's own date.
    [[nodiscard]] const RoomStudy& at(Instant t) const;

private:
    std::vector<std::unique_ptr<const Stretch>> stretches_;
};

}  // namespace keyhour::study
