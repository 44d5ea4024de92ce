#pragma once
/// @file
/// A file's descriptor, closed at its end.

#include <unistd.h>

#include <string>
#include <string_view>
#include <utility>

namespace keyhour::file {

class Descriptor {
public:
    Descriptor() = default;
    explicit Descriptor(int number) : number_{number} {}
    Descriptor(Descriptor&& other) noexcept : number_{std::exchange(other.number_, -1)} {}
    Descriptor& operator=(Descriptor&& other) noexcept {
        std::swap(number_, other.number_);
        return *this;
    }
    ~Descriptor() {
        if (number_ >= 0) ::close(number_);
    }
    [[nodiscard]] int get() const noexcept { return number_; }
    [[nodiscard]] bool is_open() const noexcept { return number_ >= 0; }

private:
    int number_ = -1;
};

/// Writes all of it. @return 0 or errno
[[nodiscard]] int write_all(int descriptor, std::string_view text);

/// Has the system write a folder's list of names to the disk. A folder that may not be read is left
/// to the system's own time. @return 0 or errno
[[nodiscard]] int flush_folder(const std::string& folder);

/// Takes the lock of an open file (flock), trying for a fifth of a second: one who only looks
/// whether it is free holds it for a moment.
/// @param kind  LOCK_EX or LOCK_SH
/// @return false if somebody else holds it
[[nodiscard]] bool lock(int descriptor, int kind);

}  // namespace keyhour::file
