#include "descriptor.hpp"

#include <sys/file.h>

#include <cerrno>
#include <chrono>
#include <thread>

namespace keyhour::file {

int write_all(int descriptor, std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = ::write(descriptor, text.data(), text.size());
        if (written >= 0)
            text.remove_prefix(static_cast<std::size_t>(written));
        else if (errno != EINTR)
            return errno;
    }
    return 0;
}

bool lock(int descriptor, int kind) {
    constexpr int tries = 10;
    for (int i = 0; i < tries; ++i) {
        if (i > 0) std::this_thread::sleep_for(std::chrono::milliseconds{20});
        if (::flock(descriptor, kind | LOCK_NB) == 0) return true;
        // Some file systems of a network know no locks: a run there goes without.
        if (errno != EWOULDBLOCK && errno != EINTR) return true;
    }
    return false;
}

}  // namespace keyhour::file
