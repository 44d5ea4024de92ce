#pragma once
/// @file
/// A day keyed by a lamp outside one window: the lock in it, the lamp's place and light, the
/// covers, and what daylight does to that light meanwhile. The one answer that `lock`, `lamp`, `key
/// --by lamp` and the light sheet are parts of, composed of sun_free.hpp, lock.hpp, lamp_report.hpp
/// and mark_light.hpp.

#include <memory>
#include <optional>
#include <vector>

#include "keyhour/site/lock_plan.hpp"
#include "keyhour/site/rigging.hpp"
#include "keyhour/study/lamp_report.hpp"
#include "keyhour/study/lock.hpp"
#include "keyhour/study/seasonal_study.hpp"
#include "keyhour/study/sun_free.hpp"

namespace keyhour::study {

/// Indices are the room's, and the location's of lamps.
struct LampDayQuestion {
    std::size_t window = 0;  ///< the key's: it stays open
    std::size_t mark = 0;
    std::optional<std::size_t> camera;  ///< aims at the mark
    Seconds lock{site::usual_lock};     ///< 1 minute and more
    /// In which the lock may lie; none: at any hour of the date, nights too.
    std::optional<site::WorkingHours> hours = site::usual_working_hours;
    double overlap_m = site::usual_overlap_m;  ///< of cloth, on each side of its opening; 0 or more
    /// The lamp, and where its light should come from. Its window and mark are those above. None:
    /// no place is looked for.
    std::optional<LampQuestion> lamp;
    Landing landing = Landing::looked_at;  ///< of the leaks
    bool daylight = true;                  ///< are the hours of the lock wanted?
};

/// The question as the location's lock and first lamps say; what is not settled is the first that
/// fits: window and mark joined by a straight line, the window open, out of the mark's camera's
/// frame and at the usual key angle as far as there are such. The lamp's light comes from its own
/// place, else through the window's middle. With a fill lamp inside that has its place, that lamp
/// is asked about at `ratio`.
/// @return nothing if no open window leads to a mark
[[nodiscard]] std::optional<LampDayQuestion> lamp_day_question(const RoomStudy& study,
                                                               double ratio = 4);
/// The same of another plan than the location's.
[[nodiscard]] std::optional<LampDayQuestion> lamp_day_question(const RoomStudy& study,
                                                               const site::LockPlan& plan,
                                                               double ratio = 4);

/// A cover as it is cut and hung.
struct ClothToHang {
    std::size_t window = 0;
    ClothSize cloth;       ///< overlap included
    Instant needed_by;     ///< before the first leak at any bearing within the doubt
    bool is_sure = false;  ///< it leaks at the stated bearing too
};

/// The light at the mark at one instant of the lock, its covers hung: lamp, sky and land through
/// the key window as key; what the room gives back as fill. Levels in lx.
struct LampHour {
    Instant at;
    double daylight_key_lx = 0, daylight_fill_lx = 0;  ///< without the lamp, clear sky
    light::KeyAndFill levels;                          ///< lamp and daylight
    double key_to_fill_stops = 0;
    /// Of the key's colour, lamp and daylight mixed, from the lamp's own: negative is cooler. None
    /// where the sun is too low for a colour of the sky.
    std::optional<double> key_mired;
};

/// How far daylight moves the light over the lock: highest less lowest of its instants.
struct DaylightMove {
    double key_stops = 0, ratio_stops = 0;
    double key_mired = 0;
    double most_off_lamp_mired = 0;  ///< the key's colour, farthest from the lamp's own; signed
};

/// One date.
struct LampDay {
    site::LocalDate date;
    Span within;  ///< in which the lock may lie
    /// Spans without sun through the key window in that time that hold the lock, best first.
    std::vector<SunFreeSpan> spans;
    /// Placed best; none if it is longer than `within`.
    std::optional<LockAnswer> lock;
    std::optional<SunFreeSpan> span;  ///< of `spans`, that which holds the lock
    std::vector<ClothToHang> cloth;   ///< for the lock, the soonest needed first
    std::optional<LampReport> lamp;   ///< in the dark; its stand says "not from there"
    /// Windows left open by `cloth` that the lamp's own light enters: cover or flag by the lock.
    std::vector<ClothToHang> cloth_against_lamp;
    std::vector<LampHour>
        hours;  ///< both ends of the lock and whole local hours between; ascending
    std::optional<DaylightMove> move;  ///< with `hours`

    /// No sun through the key window at the stated bearing while the lock lasts.
    [[nodiscard]] bool is_free() const noexcept { return span.has_value(); }
    /// Nor at any other within the doubt.
    [[nodiscard]] bool is_sure() const noexcept {
        return lock && span && span->sure && span->sure->from <= lock->lock.from &&
               lock->lock.to <= span->sure->to;
    }
};

/// The sun through a room's windows over a range of dates, each season's found once, at most a year
/// at a time. Every date may be asked; ascending is fastest.
class SeasonalSun {
public:
    /// @pre first <= last; the track reaches from a day before `first` to three days after `last`
    ///      begins; the seasons outlive this
    SeasonalSun(const SeasonalStudy& seasons, site::LocalDate first, site::LocalDate last,
                const AskedOfSun& asked);
    /// Of the season of the date, from a day before it to two days after its start and more.
    /// @pre first <= date <= last
    [[nodiscard]] const RoomSun& on(site::LocalDate date);
    [[nodiscard]] bool is_first(site::LocalDate date) const noexcept { return date == first_; }

private:
    const SeasonalStudy& seasons_;
    site::LocalDate first_, last_;
    AskedOfSun asked_;
    std::optional<RoomSun> sun_;
    site::LocalDate from_, to_;  ///< dates that sun_ serves
};

/// What every command takes: marks for where leaks land, every bearing for what is possible.
inline constexpr AskedOfSun sun_of_lamp_day{.marks = true, .every = true};

/// A span in which a lamp may be the key, and the lock in it.
struct LampChoice {
    SunFreeSpan span;
    /// The best for this window, if it lies in this span. Where its leaks land is left out.
    std::optional<LockAnswer> lock;
};

/// Of every window, mark and camera that the settings ask for: the spans of sun_free_spans, each
/// with the lock that best_lock places in the settings' hours (without them: within the date).
/// @pre as of sun_free_spans
[[nodiscard]] std::vector<LampChoice> lamp_choices(const RoomSun& sun, site::LocalDate date,
                                                   bool first_of_range,
                                                   const LampSettings& settings, Edges edges);

/// The whole answer for one date. Deterministic; no error: what can't be had is told as such.
/// @param sun            of sun_of_lamp_day, about the date
/// @param first_of_range see sun_free_spans
/// @pre the question's window is open and leads to its mark
[[nodiscard]] LampDay lamp_day(const RoomSun& sun, site::LocalDate date, bool first_of_range,
                               const LampDayQuestion& question);
/// The same with the lock placed already. @param lock  of leaks_of_lock or best_lock
[[nodiscard]] LampDay lamp_day(const RoomSun& sun, site::LocalDate date, bool first_of_range,
                               const LampDayQuestion& question, std::optional<LockAnswer> lock);

/// Of every date of a range.
[[nodiscard]] std::vector<LampDay> lamp_days(const SeasonalStudy& seasons, site::LocalDate first,
                                             site::LocalDate last, const LampDayQuestion& question);

/// What the question asks of spans free of sun, by the room's names.
[[nodiscard]] LampSettings lamp_settings(const room::Room& room, const LampDayQuestion& question);

/// The span of a date in which a lock may lie. A time that a change of clocks skips or repeats is
/// taken as so long after midnight.
[[nodiscard]] Span hours_of(const site::Zone& zone, site::LocalDate date,
                            const std::optional<site::WorkingHours>& hours);

}  // namespace keyhour::study
