#pragma once
/// @file
/// What facades throw back into the room, in words.

#include <vector>

#include "keyhour/study/facade_light.hpp"
#include "tell/paragraph.hpp"

namespace keyhour::tell {

/// What facades throw back over many dates: memory does not grow with them.
class FacadeDates {
public:
    struct Run {
        std::size_t building = 0, window = 0;
        room::Facade::Kind kind = room::Facade::Kind::glass;
        site::LocalDate first, last;
        std::size_t dates = 0, dates_on_a_mark = 0;
        study::Span longest;
    };
    void add(site::LocalDate date, const study::FacadeLight& light);
    [[nodiscard]] const std::vector<Run>& runs() const noexcept { return runs_; }

private:
    std::vector<Run> runs_;
};

/// Of one date.
[[nodiscard]] Paragraphs thrown_back(const std::vector<study::FacadeLight>& facades,
                                     const room::Room& room, const site::Zone& zone);

/// Of a range.
[[nodiscard]] Paragraphs thrown_back(const FacadeDates& facades, const room::Room& room,
                                     const site::Zone& zone);

}  // namespace keyhour::tell
