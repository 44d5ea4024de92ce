#pragma once
/// @file
/// A scene of the C header in memory of its own.

#include <cstddef>
#include <vector>

#include "as_c.hpp"

namespace keyhour::test {

class InC {
public:
    explicit InC(const room::Room& room) : described_{room}, memory_(1 << 20) {
        status_ =
            keyhour_prepare(&described_.room(), memory_.data(), memory_.size(), &scene_, &used_);
    }
    [[nodiscard]] keyhour_status status() const { return status_; }
    [[nodiscard]] keyhour_scene* scene() const { return scene_; }
    [[nodiscard]] std::size_t used() const { return used_; }

private:
    AsC described_;
    std::vector<std::byte> memory_;
    keyhour_scene* scene_ = nullptr;
    std::size_t used_ = 0;
    keyhour_status status_;
};

}  // namespace keyhour::test
