#include "length_option.hpp"

#include <fmt/format.h>

#include "numbers.hpp"
#include "read/length.hpp"

namespace keyhour::cli {

Answer<double> read_length_option(const char* option, const std::string& text, double least_m,
                                  double most_m) {
    double metres = 0;
    if (const auto number = read_number(text, "metres")) {
        metres = *number;
    } else {
        const auto length = read::read_length(text);
        if (!length)
            return usage_failure(
                fmt::format("{} \"{}\" is not a length: {}; accepted: metres, such as 2.5, or "
                            "with a unit, such as \"8 ft 2 in\"",
                            option, text, length.error()));
        metres = *length;
    }
    if (!(metres >= least_m && metres <= most_m))
        return usage_failure(
            fmt::format("{} {}: accepted: {:g} to {:g} metres", option, text, least_m, most_m));
    return metres;
}

}  // namespace keyhour::cli
