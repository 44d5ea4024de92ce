#pragma once
/// @file
/// When does direct sun come in through a window, and when does it trouble a mark or a frame?

#include <vector>

#include "keyhour/study/room_study.hpp"
#include "keyhour/study/spans.hpp"

namespace keyhour::study {

/// Another window's sun while an interval runs.
struct CoverSpan {
    std::size_t window = 0;
    Instant from, to;
};

/// Does the window's cover let direct sun through?
[[nodiscard]] bool lets_sun_in(const room::Window& window) noexcept;

/// Positive while direct sun enters through the window's opening (its cover is not looked at).
[[nodiscard]] double sun_in_margin(const RoomStudy& study, std::size_t window, const Moment& m,
                                   const room::PlanTurn& turn);

/// How far samples of a window's sun may lie apart. Blocked sun has a flat margin that hides what
/// is shorter than a step, so it is 30 s where something stands outside (gaps between buildings),
/// else 120 s.
[[nodiscard]] Seconds sun_in_step(const RoomStudy& study, std::size_t window) noexcept;

/// Spans of direct sun through the opening, at the stated bearing.
[[nodiscard]] std::vector<Span> sun_spans(const RoomStudy& study, std::size_t window, Instant from,
                                          Instant to);

/// Hours of direct sun through the opening on one stretch of time.
[[nodiscard]] Seconds sun_time(const RoomStudy& study, std::size_t window, Instant from,
                               Instant to);

/// Does sun through `window` reach the mark, land within near_m of its centre, or (if a camera is
/// given) land in its frame?
[[nodiscard]] bool troubles(const RoomStudy& study, std::size_t window, std::size_t mark,
                            std::optional<std::size_t> camera, double near_m, const Moment& m,
                            const room::PlanTurn& turn);

/// At the stated bearing, the spans within from..to in which the open windows other than
/// `key_window` trouble the mark.
[[nodiscard]] std::vector<CoverSpan> cover_spans(const RoomStudy& study, std::size_t key_window,
                                                 std::size_t mark,
                                                 std::optional<std::size_t> camera, double near_m,
                                                 Instant from, Instant to);

/// What begins (or ends) a span of sun through a window, between an instant without and one with.
[[nodiscard]] room::LimitingEdge sun_in_edge(const RoomStudy& study, std::size_t window,
                                             Instant without, Instant with);

/// The loss that grew most between `with` and `without`.
[[nodiscard]] room::LimitingEdge grown_most(const std::vector<room::Loss>& without,
                                            const std::vector<room::Loss>& with);

}  // namespace keyhour::study
