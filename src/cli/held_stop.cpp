#include "held_stop.hpp"

#include <atomic>

namespace keyhour::cli {
namespace {

// A signal handler can reach nothing but a global.
std::atomic<int> signal_noted{0};
static_assert(std::atomic<int>::is_always_lock_free);

extern "C" void note_signal(int number) {
    signal_noted = number;
}

}  // namespace

HeldStop::HeldStop(Then then) : then_{then} {
    signal_noted = 0;
    struct sigaction noting {};
    noting.sa_handler = note_signal;
    if (then == Then::tell) noting.sa_flags = static_cast<int>(SA_RESETHAND);
    ::sigemptyset(&noting.sa_mask);
    for (std::size_t i = 0; i < signals.size(); ++i) {
        ::sigaction(signals[i], nullptr, &before_[i]);
        if (before_[i].sa_handler != SIG_IGN) ::sigaction(signals[i], &noting, nullptr);
    }
}

HeldStop::~HeldStop() {
    for (std::size_t i = 0; i < signals.size(); ++i)
        ::sigaction(signals[i], &before_[i], nullptr);
    if (then_ == Then::obey && is_asked()) ::raise(asked_by());
}

int HeldStop::asked_by() noexcept {
    return signal_noted;
}

}  // namespace keyhour::cli
