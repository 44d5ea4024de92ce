#pragma once
// Ctrl-C in a long run: what is done is written out before the program ends.

#include <csignal>

namespace keyhour::cli {

/// While one lives, the first SIGINT, SIGTERM or SIGHUP is noted and not acted upon; a second one
/// ends the program as usual. One that the caller ignores stays ignored.
class InterruptWatch {
public:
    InterruptWatch();
    ~InterruptWatch();
    InterruptWatch(const InterruptWatch&) = delete;
    InterruptWatch& operator=(const InterruptWatch&) = delete;

private:
    struct sigaction before_[3]{};
};

/// The signal noted, or 0.
[[nodiscard]] int interrupted() noexcept;

}  // namespace keyhour::cli
