#include "append_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>

#include "descriptor.hpp"
#include "output_place.hpp"
#include "part_files.hpp"

namespace keyhour::file {
namespace {

constexpr int most_waits = 50;  // of a fifth of a second: see lock()

/// Opened, and locked for this process alone.
struct Held {
    Descriptor file;
    bool is_new = false;  ///< made here
};

/// Does the path still lead to this file? Somebody may have renamed it while its lock was waited
/// for.
bool still_there(const std::string& path, const struct stat& status) {
    struct stat named {};
    return ::stat(path.c_str(), &named) == 0 && named.st_dev == status.st_dev &&
           named.st_ino == status.st_ino;
}

tl::expected<Held, std::string> opened(const std::string& path) {
    const auto refused = [&](const std::string& reason) {
        return tl::unexpected{cannot_be_written(path, reason)};
    };
    for (int i = 0; i < most_waits; ++i) {
        Held held;
        struct stat status {};
        held.is_new = ::stat(path.c_str(), &status) != 0 && errno == ENOENT;
        // What is no plain file is opened without waiting, and refused.
        held.file =
            Descriptor{::open(path.c_str(), O_RDWR | O_APPEND | O_CREAT | O_NONBLOCK | O_CLOEXEC,
                              S_IRUSR | S_IWUSR | S_IRGRP | S_IWGRP | S_IROTH | S_IWOTH)};
        if (!held.file.is_open()) return refused(std::strerror(errno));
        if (::fstat(held.file.get(), &status) != 0) return refused(std::strerror(errno));
        if (!S_ISREG(status.st_mode)) return refused("this is no plain file");
        if (lock(held.file.get(), LOCK_EX) && still_there(path, status)) return held;
    }
    return refused("somebody else holds it; nothing was added, try again");
}

tl::expected<std::string, std::string> contents(int descriptor, std::size_t most_bytes) {
    std::string text;
    std::array<char, 16384> piece{};
    while (text.size() <= most_bytes) {
        const ssize_t n =
            ::pread(descriptor, piece.data(), piece.size(), static_cast<off_t>(text.size()));
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return tl::unexpected{std::string{std::strerror(errno)}};
        if (n == 0) return text;
        text.append(piece.data(), static_cast<std::size_t>(n));
    }
    return tl::unexpected{fmt::format("it is larger than {} MiB", most_bytes >> 20U)};
}

/// In one call, so that it is never in two pieces with somebody else's between them.
int write_at_once(int descriptor, std::string_view text, std::size_t before) {
    ssize_t written = -1;
    do
        written = ::write(descriptor, text.data(), text.size());
    while (written < 0 && errno == EINTR);
    if (written == static_cast<ssize_t>(text.size()))
        return ::fsync(descriptor) == 0 || errno == EINVAL ? 0 : errno;
    const int error = written < 0 ? errno : ENOSPC;
    struct stat status {};
    if (written > 0 && ::fstat(descriptor, &status) == 0 &&
        status.st_size == static_cast<off_t>(before) + written)
        (void)!::ftruncate(descriptor, static_cast<off_t>(before));
    return error;
}

}  // namespace

tl::expected<void, std::string> append_to(const std::string& path, std::size_t most_bytes,
                                          const AddedText& added) {
    const auto held = opened(path);
    if (!held) return tl::unexpected{held.error()};
    const int file = held->file.get();
    const auto before = contents(file, most_bytes);
    if (!before) return tl::unexpected{cannot_be_written(path, before.error())};
    const auto text = added(*before);
    if (!text) return tl::unexpected{text.error()};
    if (const int error = write_at_once(file, *text, before->size()); error != 0)
        return tl::unexpected{cannot_be_written(path, std::strerror(error))};
    if (held->is_new)
        static_cast<void>(flush_folder(folder_of(path)));  // the shot is in it already
    return {};
}

}  // namespace keyhour::file
