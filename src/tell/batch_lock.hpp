#pragma once
/// @file
/// Locks of many places and dates, keyed by a lamp outside: a sentence, a JSON line, a CSV record.

#include <string>

#include "batch_documents.hpp"
#include "keyhour/ask/lock_choices.hpp"
#include "keyhour/site/units.hpp"
#include "keyhour/study/lamp_day.hpp"

namespace keyhour::tell {

/// One place on one date.
struct LockOfDate {
    study::LampDay day;
    std::string why_not;          ///< why the lock does not fit; empty if it does
    std::size_t spans_shown = 1;  ///< of day.spans
};

/// The same for every date of a place.
struct LockOfPlace {
    const study::RoomStudy& study;
    const study::LampDayQuestion& question;
    site::Units units = site::Units::metres;
};

/// Why the place can have the lock on no date; without its name.
[[nodiscard]] std::string fault_in_words(const ask::LockFault& fault, const room::Room& room);

/// Why it does not fit on a date: "without sun through the key window for 95 min, 120 min wanted".
[[nodiscard]] std::string why_not(const ask::LockMiss& miss);

/// "lock 08:00 to 11:00; 2 leaks, the first 08:41; 3.4 m2 of cloth; key lamp stands, 1.2 klx".
[[nodiscard]] std::string lock_in_brief(const LockOfDate& date, const LockOfPlace& place);

/// One line, with its newline.
[[nodiscard]] std::string lock_json_line(const BatchSubject& subject, const LockOfDate& date,
                                         const LockOfPlace& place);

[[nodiscard]] std::string lock_csv_head();
/// A record for each span shown; one without a span if there is none.
[[nodiscard]] std::string lock_csv_records(const BatchSubject& subject, const LockOfDate& date,
                                           const LockOfPlace& place);

}  // namespace keyhour::tell
