#pragma once
// Where a batch writes, looked at before anything is computed.

#include <optional>

#include "batch_request.hpp"

namespace keyhour::cli {

/// Why the run must not begin: another one is writing there, the output is one of the inputs or
/// would become one, it belongs to an interrupted run, or to somebody else (own_output.hpp).
[[nodiscard]] std::optional<Failure> may_begin(const BatchRequest& request);

}  // namespace keyhour::cli
