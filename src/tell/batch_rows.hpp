#pragma once
/// @file
/// The rows that people read of a batch: 80 columns, whole minutes, local time with its offset.

#include <string>

#include "batch_documents.hpp"
#include "batch_lock.hpp"
#include "paragraph.hpp"

namespace keyhour::tell {

// A head is two lines with their newlines.

[[nodiscard]] std::string batch_key_head();
/// A row for each interval that fits, or one that says why none does.
[[nodiscard]] Paragraphs batch_key_rows(const BatchSubject& subject, const study::KeyChoice& choice,
                                        const study::RoomStudy& study);

[[nodiscard]] std::string batch_lock_head();
/// A row for each span shown, or one that says why none holds the lock.
[[nodiscard]] Paragraphs batch_lock_rows(const BatchSubject& subject, const LockOfDate& date,
                                         const LockOfPlace& place);

[[nodiscard]] std::string batch_day_head();
[[nodiscard]] Paragraph batch_day_row(const BatchSubject& subject, const study::Day& day,
                                      const site::Site& site);

[[nodiscard]] std::string batch_exterior_head();
/// @param why_not  why it does not fit; empty if it does
[[nodiscard]] Paragraph batch_exterior_row(const BatchSubject& subject, const study::SpotDay& day,
                                           const study::SpotLight& spot,
                                           const std::string& why_not);

/// A place without a name is called by its source.
[[nodiscard]] const std::string& place_name(const std::string& name, const std::string& source);

}  // namespace keyhour::tell
