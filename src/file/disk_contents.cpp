#include "disk_contents.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>

namespace keyhour::file {

namespace {

/// Closed at its end.
class Opened {
public:
    explicit Opened(const std::string& path)
        // A pipe without a writer is opened at once, and then refused, not waited for.
        : number_{::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC)} {}
    Opened(const Opened&) = delete;
    Opened& operator=(const Opened&) = delete;
    ~Opened() {
        if (number_ >= 0) ::close(number_);
    }
    [[nodiscard]] int get() const noexcept { return number_; }

private:
    int number_;
};

bool is_own_descriptor(const std::string& path) {
    return path.starts_with("/dev/fd/") || path.starts_with("/proc/self/fd/") ||
           path == "/dev/stdin";
}

bool may_be_read(const struct stat& status, const std::string& path, Taken taken) {
    if (S_ISREG(status.st_mode)) return true;
    if (taken == Taken::plain_file) return false;
    return S_ISCHR(status.st_mode) || is_own_descriptor(path);
}

}  // namespace

tl::expected<std::string, Problem> disk_contents(const std::string& path, std::size_t most_bytes,
                                                 const std::string& what,
                                                 const std::string& accepted, Taken taken) {
    const auto refused = [&](std::string found, std::string wanted) {
        return tl::unexpected{Problem{path, 0, 0, std::move(found), std::move(wanted), {}}};
    };
    const Opened file{path};
    struct stat status {};
    if (file.get() < 0 || ::fstat(file.get(), &status) != 0) {
        if (errno == ENXIO) return refused("this is no plain file", accepted);  // a socket
        return refused(fmt::format("the file cannot be read: {}", std::strerror(errno)), accepted);
    }
    if (S_ISDIR(status.st_mode)) return refused("this is a folder", accepted);
    if (!may_be_read(status, path, taken)) return refused("this is no plain file", accepted);
    ::fcntl(file.get(), F_SETFL, 0);  // the user's own pipe may be waited for
    // Piece by piece: a device or a pipe has no size to ask for.
    std::string text;
    std::array<char, 16384> piece{};
    while (text.size() <= most_bytes) {
        const ssize_t n = ::read(file.get(), piece.data(), piece.size());
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return refused("reading the file failed half-way", accepted);
        if (n == 0) break;
        text.append(piece.data(), static_cast<std::size_t>(n));
    }
    if (text.size() > most_bytes)
        return refused("the file is too large",
                       fmt::format("{} holds up to {} MiB", what, most_bytes >> 20U));
    return text;
}

}  // namespace keyhour::file
