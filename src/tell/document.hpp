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

/// One line of JSON. Bytes that are no UTF-8 are replaced; what would steer a terminal is escaped.
[[nodiscard]] std::string json_text(const Json& document);

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

    /// The same of a day that holds a list too long to be kept: `before`, then the members of the
    /// list one by one, then what stands after it.
    void begin_list(const Json& before, const std::string& list);
    void add_to_list(const Json& member);
    void end_list(const Json& after);

    /// Closes the document. @pre called once, after the last day
    void finish();

private:
    void begin_day();

    std::ostream& out_;
    std::string head_;  // without its closing brace
    bool is_range_ = false;
    bool is_first_ = true, is_list_begun_ = false;
};

}  // namespace keyhour::tell
