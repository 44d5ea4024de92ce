#pragma once
// A signal to stop, held back until what was begun is tidied up.

#include <signal.h>

#include <array>

namespace keyhour::cli {

/// While it lives, SIGINT, SIGTERM and SIGHUP are noted instead of obeyed; at its end this program
/// ends by the one that came. One at a time: declare it before what must be tidied up.
class HeldStop {
public:
    HeldStop();
    HeldStop(const HeldStop&) = delete;
    HeldStop& operator=(const HeldStop&) = delete;
    ~HeldStop();

    /// Has such a signal come? Waiting system calls return when it does.
    [[nodiscard]] static bool is_asked();

private:
    static constexpr std::array<int, 3> signals{SIGINT, SIGTERM, SIGHUP};
    std::array<struct sigaction, signals.size()> before_{};
};

}  // namespace keyhour::cli
