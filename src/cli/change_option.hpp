#pragma once
// --if: what would be, were a value of the file another.

#include <string>
#include <vector>

#include "read/changes.hpp"

namespace keyhour::cli {

class Options;

inline constexpr const char* change_option = "--if";

struct ChangeOption {
    std::vector<std::string> typed;

    void offer(Options& command);
    [[nodiscard]] read::Changes changes() const;
};

}  // namespace keyhour::cli
