#pragma once
/// @file
/// Rooms against dates: the best hold of each, and the surest of them all.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "keyhour/ask/key_choices.hpp"
#include "keyhour/site/position.hpp"

namespace keyhour::ask {

/// A hold that fits, as a grid or a plan of the day needs it.
struct BriefHold {
    study::Span span;                 ///< at the stated bearing, all criteria held
    std::optional<study::Span> sure;  ///< at every bearing within the doubt; within `span`
    std::string mark, window;         ///< names

    /// 0 where nothing is sure.
    [[nodiscard]] Seconds sure_length() const { return sure ? sure->length() : Seconds{0}; }
};

struct BriefDate {
    site::LocalDate date;
    std::vector<BriefHold> holds;  ///< that fit, best first
    std::string why_not;           ///< why none does; empty if one does

    /// Null where none fits.
    [[nodiscard]] const BriefHold* best() const { return holds.empty() ? nullptr : &holds.front(); }
};

struct BriefPlace {
    std::string location, source;  ///< its name, may be empty, and the file it was read from
    site::Coordinates place;
    site::Zone zone;
    std::vector<BriefDate> dates;  ///< ascending
};

/// The clean keys by the sun that fit, date by date.
/// @param location, dates, shared  as for for_each_choice
/// @param request  all that fit are kept, whatever it says; misses are left out
[[nodiscard]] std::vector<BriefDate> brief_keys(
    const site::Location& location, std::span<const site::LocalDate> dates,
    const std::shared_ptr<const study::SharedTrack>& shared, ChoiceRequest request);

/// More than these are no grid that a person can look at.
inline constexpr std::size_t most_compared_rooms = 40, most_compared_dates = 31;

struct Comparison {
    struct Cell {
        std::size_t place = 0, date = 0;  ///< indices into `places` and its dates
    };
    std::vector<BriefPlace> places;
    /// The surest hold; of two as sure the longer, of two as long that of the place which comes
    /// first, then of the earlier date. Nothing where no place has a hold.
    std::optional<Cell> surest;

    /// @pre there is a surest
    [[nodiscard]] const BriefPlace& surest_place() const { return places[surest->place]; }
    [[nodiscard]] const BriefDate& surest_date() const {
        return surest_place().dates[surest->date];
    }
};

/// @pre every place has the same dates
[[nodiscard]] Comparison compare(std::vector<BriefPlace> places);

}  // namespace keyhour::ask
