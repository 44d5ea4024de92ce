#pragma once
// Which local dates many places are asked about: one, a range, a list, or some weekdays of these.

#include <string>
#include <vector>

#include "date_options.hpp"

namespace keyhour::cli {

class Options;

struct DateListOptions {
    DateOptions range;
    std::string dates;     // a list by commas, or a file with one a line
    std::string weekdays;  // "mon,tue"

    void offer(Options& command);

    /// @return ascending, each once, at least one. There is no "today": it would differ from
    /// machine
    ///         to machine
    [[nodiscard]] Answer<std::vector<site::LocalDate>> read() const;

private:
    [[nodiscard]] Answer<std::vector<site::LocalDate>> read_all() const;
};

}  // namespace keyhour::cli
