#include "csv.hpp"

#include "words/shown.hpp"

namespace keyhour::tell {

std::string csv_text(std::string_view text) {
    constexpr std::string_view run_by_spreadsheets = "=+-@";
    const std::string safe = words::escaped(text);  // a tab at its start is run as well
    if (!safe.empty() && run_by_spreadsheets.find(safe.front()) != std::string_view::npos)
        return csv_field('\'' + safe);
    return csv_field(safe);
}

std::string csv_field(std::string_view text) {
    if (text.find_first_of(",\"\r\n") == std::string_view::npos) return std::string{text};
    std::string quoted = "\"";
    for (const char c : text) {
        if (c == '"') quoted += '"';
        quoted += c;
    }
    return quoted + '"';
}

}  // namespace keyhour::tell
