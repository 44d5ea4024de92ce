#pragma once
/// @file
/// The parts of the light sheet's page, each a section of HTML; empty where there is nothing to
/// tell.

#include <string>

#include "sheet_content.hpp"

namespace keyhour::tell {

/// "<section aria-labelledby=ID><h2 id=ID>TITLE</h2>BODY</section>", or nothing without a body.
/// @param title  plain text
[[nodiscard]] std::string page_section(const char* id, const std::string& title,
                                       const std::string& body, const char* css_class = "");

[[nodiscard]] std::string keys_section(const SheetContent& c);
[[nodiscard]] std::string covers_section(const SheetContent& c);
[[nodiscard]] std::string lamps_section(const SheetContent& c);
[[nodiscard]] std::string hours_section(const SheetContent& c);
[[nodiscard]] std::string spots_section(const SheetContent& c);
[[nodiscard]] std::string timetable_section(const SheetContent& c);
[[nodiscard]] std::string cautions_section(const SheetContent& c);
[[nodiscard]] std::string recce_section(const SheetContent& c);
[[nodiscard]] std::string read_back_section(const SheetContent& c);

[[nodiscard]] inline const site::Zone& zone_of(const SheetContent& c) {
    return c.location.site.zone;
}

/// "The key comes through case window: leave it open."
[[nodiscard]] std::string key_window_words(const SheetContent& c, const study::KeyInterval& best);

/// "rise 07:24 · transit 12:19 · set 17:14": the day's events in a line of plain text.
[[nodiscard]] std::string day_line(const SheetContent& c);

}  // namespace keyhour::tell
