#pragma once
// --show: which details an answer tells beside itself. JSON tells all of them anyhow.

#include <string>

#include "failure.hpp"
#include "options.hpp"
#include "tell/detail.hpp"

namespace keyhour::cli {

class ShowOption {
public:
    /// @param accepted  the details that the command has
    explicit ShowOption(tell::Details accepted) : accepted_{accepted} {}

    void offer(Options& command);

    /// What was asked for; an unknown word is answered with the accepted ones, or the nearest.
    [[nodiscard]] Answer<tell::Details> read() const;

    /// "levels, doubt, all": the words of this command.
    [[nodiscard]] std::string words() const;

private:
    tell::Details accepted_;
    std::string asked_;
};

}  // namespace keyhour::cli
