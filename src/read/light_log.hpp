#pragma once
/// @file
/// The light log: a line a shot, each the keys of a location file between braces, so that a person
/// can add one by hand and a line that was cut off shows it.

#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "keyhour/study/logged_shot.hpp"
#include "problem.hpp"

namespace keyhour::read {

/// A log's first line.
inline constexpr std::string_view light_log_head = "# keyhour light log 1";

inline constexpr std::size_t largest_log_bytes = 16U << 20U;

/// Shots in the order of their lines. Of a line that can't be read the problems are kept, one or
/// more.
struct LightLog {
    std::vector<study::LoggedShot> shots;
    std::vector<Problem> problems;
};

/// @return the log, or that this is none: its first line is not the head
[[nodiscard]] tl::expected<LightLog, Problem> read_light_log_text(std::string_view text,
                                                                  const std::string& name);
/// @return also why the file can't be read
[[nodiscard]] tl::expected<LightLog, Problem> read_light_log(const std::string& path);

/// What makes `line` the next line of a log that holds `before`: ended by a line's end, after a
/// head if there is none yet, on a line of its own if the last one was never ended.
/// @return or that it is no light log
[[nodiscard]] tl::expected<std::string, std::string> next_log_line(std::string_view before,
                                                                   const std::string& path,
                                                                   std::string_view line);

}  // namespace keyhour::read
