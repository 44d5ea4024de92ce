#pragma once
// A signal to stop, held back until what was begun is tidied up or written out.

#include <signal.h>

#include <array>

namespace keyhour::cli {

/// While it lives, SIGINT, SIGTERM and SIGHUP are noted instead of obeyed. One that the caller
/// ignores (nohup) stays ignored. One at a time: declare it before what must be tidied up.
class HeldStop {
public:
    enum class Then {
        obey,  ///< at its end this program ends by the signal that came
        tell   ///< the caller ends by itself and says so; a second signal ends the program at once
    };
    explicit HeldStop(Then then = Then::obey);
    HeldStop(const HeldStop&) = delete;
    HeldStop& operator=(const HeldStop&) = delete;
    ~HeldStop();

    /// The signal that came since the last one began to live, or 0. Waiting system calls return
    /// when it comes.
    [[nodiscard]] static int asked_by() noexcept;
    [[nodiscard]] static bool is_asked() noexcept { return asked_by() != 0; }

private:
    static constexpr std::array<int, 3> signals{SIGINT, SIGTERM, SIGHUP};
    Then then_;
    std::array<struct sigaction, signals.size()> before_{};
};

}  // namespace keyhour::cli
