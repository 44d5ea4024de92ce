#pragma once
// `keyhour sun --rows`: a filter from CSV to CSV.

#include <iosfwd>
#include <string>

namespace keyhour::cli {

/// Reads records with the columns utc, latitude_deg, longitude_deg and, if it is there, elevation_m
/// (else 0), in any order and among others; writes each with the sun's place behind it. A bad
/// record is told on `err` with line and column, and left out.
/// @param name  how messages call the input
/// @return exit code: 0, 3 if some records were bad, 1 if all were or the header is
[[nodiscard]] int answer_rows(std::istream& in, const std::string& name, std::ostream& out,
                              std::ostream& err);

}  // namespace keyhour::cli
