#include "interrupt.hpp"

#include <atomic>

namespace keyhour::cli {
namespace {

constexpr int watched[] = {SIGINT, SIGTERM, SIGHUP};

// A signal handler can reach nothing but a global.
std::atomic<int> signal_noted{0};
static_assert(std::atomic<int>::is_always_lock_free);

extern "C" void note_signal(int number) {
    signal_noted = number;
}

}  // namespace

InterruptWatch::InterruptWatch() {
    signal_noted = 0;
    struct sigaction action {};
    action.sa_handler = note_signal;
    action.sa_flags = static_cast<int>(SA_RESETHAND);  // the second one ends the program
    sigemptyset(&action.sa_mask);
    for (int i = 0; i < 3; ++i) {
        sigaction(watched[i], nullptr, &before_[i]);
        // What a caller ignores (nohup) stays ignored.
        if (before_[i].sa_handler != SIG_IGN) sigaction(watched[i], &action, nullptr);
    }
}

InterruptWatch::~InterruptWatch() {
    for (int i = 0; i < 3; ++i)
        sigaction(watched[i], &before_[i], nullptr);
}

int interrupted() noexcept {
    return signal_noted;
}

}  // namespace keyhour::cli
