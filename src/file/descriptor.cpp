#include "descriptor.hpp"

#include <fcntl.h>
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

int flush_folder(const std::string& folder) {
    const Descriptor opened{::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
    if (!opened.is_open()) return 0;
    return ::fsync(opened.get()) == 0 || errno == EINVAL ? 0 : errno;
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
