#pragma once
// The rows that people read of a batch: 80 columns, whole minutes, local time with its offset.

#include <string>

#include "tell/batch_documents.hpp"
#include "tell/batch_lock.hpp"

namespace keyhour::cli {

[[nodiscard]] std::string key_table_head();
/// A row for each interval that fits, or one that says why none does.
[[nodiscard]] std::string key_rows(const tell::BatchSubject& subject,
                                   const study::KeyChoice& choice, const study::RoomStudy& study);

[[nodiscard]] std::string lock_table_head();
/// A row for each span shown, or one that says why none holds the lock.
[[nodiscard]] std::string lock_rows(const tell::BatchSubject& subject, const tell::LockOfDate& date,
                                    const tell::LockOfPlace& place);

[[nodiscard]] std::string day_table_head();
[[nodiscard]] std::string day_row(const tell::BatchSubject& subject, const study::Day& day,
                                  const site::Site& site);

[[nodiscard]] std::string exterior_table_head();
/// @param why_not  why it does not fit; empty if it does
[[nodiscard]] std::string exterior_row(const tell::BatchSubject& subject, const study::SpotDay& day,
                                       const study::SpotLight& spot, const std::string& why_not);

/// A place without a name is called by its source.
[[nodiscard]] const std::string& place_name(const std::string& name, const std::string& source);

}  // namespace keyhour::cli
