#pragma once
// Why a command cannot answer: what to say on stderr, and the exit code.

#include <string>
#include <tl/expected.hpp>

#include "app.hpp"

namespace keyhour::cli {

struct Failure {
    ExitCode code = wrong_usage;
    std::string message;  // without a newline at its end
};

template <class T>
using Answer = tl::expected<T, Failure>;

inline tl::unexpected<Failure> usage_failure(std::string message) {
    return tl::unexpected{Failure{wrong_usage, std::move(message)}};
}
inline tl::unexpected<Failure> data_failure(std::string message) {
    return tl::unexpected{Failure{bad_data, std::move(message)}};
}

/// Prints the message and gives the exit code.
int report(const Failure& failure, std::ostream& err);

}  // namespace keyhour::cli
