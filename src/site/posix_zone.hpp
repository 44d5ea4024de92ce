#pragma once
// A POSIX TZ string as rules of a clock. The implementation is compiled as C++17 (see
// src/CMakeLists.txt), so nothing here may need more.

#include <cstdint>
#include <memory>
#include <string>

namespace keyhour::site {

class PosixZone {
public:
    struct Offset {
        std::int32_t east_s = 0;
        bool daylight_saving = false;
        std::string abbreviation;
    };

    /// @return the rules, or nothing, with `why` saying what is wrong
    static std::unique_ptr<PosixZone> read(const std::string& text, std::string& why);

    virtual ~PosixZone() = default;
    virtual Offset at(std::int64_t unix_s) const = 0;
    /// As it was read.
    virtual const std::string& text() const = 0;
};

}  // namespace keyhour::site
