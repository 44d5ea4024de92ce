#pragma once
// Which drawings a light sheet has, and their names.

#include <array>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "change_option.hpp"
#include "date_options.hpp"
#include "draw/drawing.hpp"
#include "failure.hpp"
#include "keyhour/site/units.hpp"
#include "keyhour/study/day_strip.hpp"
#include "keyhour/study/seasonal_study.hpp"
#include "sheet_folder.hpp"
#include "sheet_lock.hpp"

namespace keyhour::cli {

struct SheetWishes {
    std::string location;
    ChangeOption what_if;
    DateOptions dates;
    std::vector<std::string> only;
    std::string hours, window, mark, units;
    LockOptions lock;
    double width_mm = draw::paper_width_mm;
    bool in_page = false;  // elements of a page, no files of their own
};

/// A location and its dates, prepared; the room may be missing. It stays where it is.
struct SheetQuestion {
    site::Location location;  // as read
    DateRange dates;
    site::Units units = site::Units::metres;  // which its crew reads
    std::shared_ptr<const study::SharedTrack> shared;
    std::unique_ptr<study::SeasonalStudy> seasons;  // null without a room

    [[nodiscard]] static Answer<std::unique_ptr<SheetQuestion>> ask(const SheetWishes& wishes);
    /// Null without a room.
    [[nodiscard]] const study::RoomStudy* study_on(site::LocalDate date) const {
        return seasons ? &seasons->on(date) : nullptr;
    }
    /// Drawings and papers of one date ask once.
    [[nodiscard]] const study::DayStrip& strip_on(site::LocalDate date) const;

private:
    mutable std::map<site::LocalDate, study::DayStrip> strips_;
};

/// Drawings are of this many dates at most.
inline constexpr int most_sheet_dates = 31;

/// What --only takes.
inline constexpr std::array<const char*, 8> sheet_kinds{"plan", "section",  "strip",       "year",
                                                        "page", "calendar", "spreadsheet", "map"};

/// Is this kind wished for? Without --only all are.
[[nodiscard]] bool wants(const SheetWishes& wishes, const char* kind);

/// All drawings wished for: plan.svg, section-WINDOW-MARK.svg, strip.svg, year-MARK.svg; over a
/// range those of a day carry their date: plan-2026-03-10.svg.
[[nodiscard]] Answer<std::vector<SheetFile>> draw_sheet(const SheetQuestion& question,
                                                        const SheetWishes& wishes);

/// Their names alone, without drawing them.
[[nodiscard]] Answer<std::vector<std::string>> drawing_names(const SheetQuestion& question,
                                                             const SheetWishes& wishes);

/// Times of the patches on the plan: --hours, else study::plan_hours; none without a room.
[[nodiscard]] Answer<std::vector<Instant>> plan_hours(const SheetQuestion& question,
                                                      const SheetWishes& wishes,
                                                      const study::DayStrip& strip);

}  // namespace keyhour::cli
