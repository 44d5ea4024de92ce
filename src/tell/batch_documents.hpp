#pragma once
/// @file
/// The answers about many places as lines: JSON, a document a line
/// (tests/schema/batch.schema.json), or CSV records (RFC 4180, lines end in carriage return and
/// line feed).

#include <string>
#include <vector>

#include "document.hpp"
#include "keyhour/ask/ranking.hpp"
#include "keyhour/study/best_key.hpp"
#include "keyhour/study/day.hpp"
#include "keyhour/study/spot_light.hpp"

namespace keyhour::tell {

/// What a line is about: first == last for one date.
struct BatchSubject {
    std::string source;  ///< the file, or "standard input"
    site::LocalDate first, last;
    bool is_range = false;
    std::vector<std::string> questions;  ///< what looks wrong in the location and may be right
};

/// One line, with its newline.
[[nodiscard]] std::string key_json_line(const BatchSubject& subject, const study::KeyChoice& choice,
                                        const study::RoomStudy& study);
[[nodiscard]] std::string day_json_line(const BatchSubject& subject, const study::Day& day,
                                        const site::Site& site, const study::LateLightBand& band);

/// Why a spot's light does not fit: "light of 12 min, 30 wanted"; empty if it does.
/// @param least  wanted of it
[[nodiscard]] std::string why_not(const ask::Standing& spot, Seconds least);

/// One spot on one date. @param why_not  why it does not fit; empty if it does
[[nodiscard]] std::string exterior_json_line(const BatchSubject& subject, const study::SpotDay& day,
                                             const study::SpotLight& spot,
                                             const std::string& why_not);

/// The record of names.
[[nodiscard]] std::string key_csv_head();
[[nodiscard]] std::string day_csv_head();
[[nodiscard]] std::string exterior_csv_head();
/// A record for each interval that fits; one without an interval if none does.
[[nodiscard]] std::string key_csv_records(const BatchSubject& subject,
                                          const study::KeyChoice& choice,
                                          const study::RoomStudy& study);
[[nodiscard]] std::string day_csv_record(const BatchSubject& subject, const study::Day& day,
                                         const site::Site& site);

[[nodiscard]] std::string exterior_csv_record(const BatchSubject& subject,
                                              const study::SpotDay& day,
                                              const study::SpotLight& spot,
                                              const std::string& why_not);

}  // namespace keyhour::tell
