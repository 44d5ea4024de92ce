#include "held_stop.hpp"

namespace keyhour::cli {
namespace {

volatile sig_atomic_t asked_by = 0;

void note(int signal_number) {
    asked_by = signal_number;
}

}  // namespace

HeldStop::HeldStop() {
    asked_by = 0;
    struct sigaction noting {};
    noting.sa_handler = note;
    ::sigemptyset(&noting.sa_mask);
    for (std::size_t i = 0; i < signals.size(); ++i) {
        ::sigaction(signals[i], nullptr, &before_[i]);
        // What a caller ignores (nohup) stays ignored.
        if (before_[i].sa_handler != SIG_IGN) ::sigaction(signals[i], &noting, nullptr);
    }
}

HeldStop::~HeldStop() {
    for (std::size_t i = 0; i < signals.size(); ++i)
        ::sigaction(signals[i], &before_[i], nullptr);
    if (asked_by != 0) ::raise(asked_by);
}

bool HeldStop::is_asked() {
    return asked_by != 0;
}

}  // namespace keyhour::cli
