#pragma once
// What the light sheet has beside its drawings: page, calendar, spreadsheet, map.

#include <string>
#include <vector>

#include "keyhour/study/stop_wish.hpp"
#include "sheet_drawings.hpp"

namespace keyhour::cli {

inline constexpr const char *calendar_name = "sheet.ics", *spreadsheet_name = "sheet.csv",
                            *map_name = "sheet.geojson";

struct PaperWishes {
    study::CameraSetting camera;
    std::string calendar_path;  // where an earlier one may lie; empty on standard output
};

/// Those wished for: sheet.html (over a range one each date: sheet-2026-03-10.html), sheet.ics,
/// sheet.csv, sheet.geojson.
[[nodiscard]] Answer<std::vector<SheetFile>> sheet_papers(const SheetQuestion& question,
                                                          const SheetWishes& wishes,
                                                          const PaperWishes& papers);

/// Their names alone.
[[nodiscard]] std::vector<std::string> paper_names(const SheetQuestion& question,
                                                   const SheetWishes& wishes);

}  // namespace keyhour::cli
