#pragma once
// The answer of `lamp` on a page of 80 columns.

#include <iosfwd>

#include "keyhour/study/lamp_report.hpp"

namespace keyhour::cli {

void print_lamp_page(const study::LampReport& report, const study::LampQuestion& question,
                     const study::RoomStudy& study, std::ostream& out);

}  // namespace keyhour::cli
