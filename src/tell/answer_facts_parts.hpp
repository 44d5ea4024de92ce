#pragma once
/// @file
/// How facts of a document are worded: whole minutes, rounded as in the answer itself.

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "answer_facts.hpp"

namespace keyhour::tell {

enum class Rounded { down, nearest, up };

/// "13:05" of "2026-03-10T13:05:12.000+00:00"; "" of null.
[[nodiscard]] std::string clock_of(const Json& local, Rounded how);
/// Both ends rounded towards each other.
[[nodiscard]] std::string held_between(const Json& from_local, const Json& to_local);
/// "2 h 04 min" of its ends in UTC: never longer than their minutes, rounded inward, say.
[[nodiscard]] std::string held_for(const Json& from_utc, const Json& to_utc);
/// "2 h 05 min", rounded down.
[[nodiscard]] std::string whole_minutes_of(const Json& minutes);
/// "35 to 44", of a pair, to the degree.
[[nodiscard]] std::string degrees_of(const Json& pair);
/// The members of a list, by one of their names, each once: "a, b"; "none" of an empty one.
[[nodiscard]] std::string names_of(const Json& list, const char* member);
/// A member that is a number, or 0.
[[nodiscard]] double number_of(const Json& object, const char* member);
/// Text, or "-" of null.
[[nodiscard]] std::string word_of(const Json& value);
/// The member, or 0 where it is no number.
[[nodiscard]] double number_of(const Json& object, const char* member);

/// The documents of each day: of a range its list, else the document itself.
[[nodiscard]] std::vector<const Json*> days_of(const Json& answer);

[[nodiscard]] AnswerFacts room_facts(const std::string& command, const Json& answer);
[[nodiscard]] AnswerFacts site_facts(const std::string& command, const Json& answer);
[[nodiscard]] AnswerFacts plan_facts(const Json& answer);

}  // namespace keyhour::tell
