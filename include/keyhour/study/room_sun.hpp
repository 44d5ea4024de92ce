#pragma once
/// @file
/// Direct sun through a room's windows over a range of time, found once: then every lock in it,
/// and every span free of sun, is a matter of overlap.

#include <memory>
#include <vector>

#include "keyhour/study/room_study.hpp"
#include "keyhour/study/spans.hpp"

namespace keyhour::study {

/// Sun through one window's opening, whatever hangs in it. Spans ascend.
struct OpeningSun {
    std::size_t window = 0;
    std::vector<Span> stated;                ///< at the stated bearing
    std::vector<Span> every, some;           ///< at every, at some bearing within the doubt
    std::vector<std::vector<Span>> on_mark;  ///< of each mark: at some bearing; see `asked`
};

/// What is wanted beside the spans at the stated bearing and at some.
struct AskedOfSun {
    bool marks = false;  ///< when it reaches each mark
    bool every = false;  ///< what holds at every bearing
};

/// Of every window that is not blacked out, from fixed regions of directions over the plan: the
/// longer the range, the less each date costs. Ends are within 0.05 s of the margin itself.
class RoomSun {
public:
    /// @pre from < to, and the study's track covers it; the study outlives this
    RoomSun(const RoomStudy& study, Instant from, Instant to, const AskedOfSun& asked);

    [[nodiscard]] const RoomStudy& study() const noexcept { return *study_; }
    [[nodiscard]] Instant from() const noexcept { return from_; }
    [[nodiscard]] Instant to() const noexcept { return to_; }
    /// By window, ascending.
    [[nodiscard]] const std::vector<OpeningSun>& windows() const noexcept { return *windows_; }
    /// Of one window; null if it is blacked out.
    [[nodiscard]] const OpeningSun* of(std::size_t window) const noexcept;

private:
    const RoomStudy* study_;
    Instant from_, to_;
    std::shared_ptr<const std::vector<OpeningSun>> windows_;
};

/// What of ascending spans lies within from..to, cut there.
[[nodiscard]] std::vector<Span> within(const std::vector<Span>& spans, Instant from, Instant to);

/// Where there is none, within from..to.
[[nodiscard]] std::vector<Span> gaps(const std::vector<Span>& spans, Instant from, Instant to);

/// Of one window, within from..to.
[[nodiscard]] OpeningSun within(const OpeningSun& sun, Instant from, Instant to);

}  // namespace keyhour::study
