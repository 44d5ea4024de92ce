#pragma once
/// @file
/// A key in sentences: the same for one date, for a range, for the terminal and for a message.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/key_doubt.hpp"

namespace keyhour::tell {

/// "press window on type case, camera A"
[[nodiscard]] std::string who(const room::Room& room, std::size_t window, std::size_t mark,
                              const std::optional<std::size_t>& camera);

/// For a table's row: "press window on type case (A)".
[[nodiscard]] std::string who_in_short(const room::Room& room, const study::KeyInterval& key);

/// "begins by building warehouse opposite, ends by right jamb".
[[nodiscard]] std::string edges(const room::LimitingEdge& begins, const room::LimitingEdge& ends,
                                const room::Room& room);

/// "sure 13:10 to 14:06 (56 min), possible 12:46 to 14:31".
[[nodiscard]] std::string band(const std::optional<study::Span>& sure, const study::Span& possible,
                               const site::Zone& zone);

/// "nothing to cover", "to cover: yard window 13:02 to 13:40, ...".
[[nodiscard]] std::string covers(const std::vector<study::CoverSpan>& covers, site::LocalDate date,
                                 const room::Room& room, const site::Zone& zone);

/// The clock times, with the offset where it is not the one that the date has at noon:
/// "00:40 to 01:20 (UTC+00:00, then UTC+01:00)".
[[nodiscard]] std::string told_span(const study::Span& span, const site::Zone& zone);

/// Of an interval, or of its possible part where it has no other.
[[nodiscard]] inline const study::Span& told(const study::KeyInterval& key) {
    return key.span ? *key.span : key.possible;
}

/// "98 % lit, sun 33 high, key angle 74 for 70": what was wanted stands with what misses it.
/// @pre miss.at holds
[[nodiscard]] std::string miss_figures(const study::NearestMiss& miss);

/// "press window on type case, camera A at 09:30: sun too high: the head cuts it off; 69 % lit for
/// 95, sun 51 high, key angle 62".
/// @param with_date  where the question was about more than one
[[nodiscard]] std::string miss_in_words(const study::NearestMiss& miss, const room::Room& room,
                                        const site::Zone& zone, bool with_date);

/// What would have to change for a key after all: "move the mark nearer to the window, or lower".
[[nodiscard]] std::string remedy(const study::NearestMiss& miss, const room::Room& room);

/// The one that came nearest; null without any.
[[nodiscard]] const study::NearestMiss* nearest(const std::vector<study::NearestMiss>& misses);

}  // namespace keyhour::tell
