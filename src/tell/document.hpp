#pragma once
/// @file
/// The frame of every JSON document that the program writes.

#include <iosfwd>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "keyhour/site/location.hpp"

namespace keyhour::tell {

using Json = nlohmann::ordered_json;

/// {"keyhour": version, "location": name, "read_back": lines}.
[[nodiscard]] Json start_document(const site::Location& location,
                                  const std::vector<std::string>& read_back);

/// Rounded for JSON and CSV; what is not finite becomes 0, which no answer may hold.
[[nodiscard]] double rounded(double value, int decimals = 7);

/// A direction in degrees, rounded, still 0 <= direction < 360.
[[nodiscard]] double rounded_turn(Angle direction, int decimals = 7);

/// One line of JSON and a newline. Bytes that are no UTF-8 are replaced.
void write(std::ostream& out, const Json& document);

/// Writes one document about one date, or one about many whose per-day parts stand in `days`; days
/// are written as they come, so a range of years takes no memory.
class DaysWriter {
public:
    /// @param head  what start_document gave, with what holds for all dates
    /// @param is_range  the user asked for a range: use `days`, even for a single date
    DaysWriter(std::ostream& out, const Json& head, bool is_range);
    ~DaysWriter();
    DaysWriter(const DaysWriter&) = delete;
    DaysWriter& operator=(const DaysWriter&) = delete;

    /// @param day  an object; its members join the head if only one date was asked for
    void add(const Json& day);

    /// Closes the document. @pre called once, after the last day
    void finish();

private:
    std::ostream& out_;
    std::string head_;  // without its closing brace
    bool is_range_ = false;
    bool is_first_ = true;
};

}  // namespace keyhour::tell
