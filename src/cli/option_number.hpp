#pragma once
// A number given to an option, as text: plainly, with its unit, or in the option's own notation.

#include <concepts>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <tl/expected.hpp>

#include "numbers.hpp"

namespace keyhour::cli {

/// How an option takes its number.
struct NumberForm {
    std::string type;  ///< as the help shows it: "M", "MIN"
    std::optional<WholeBounds> bounds;
    std::function<std::optional<double>(const std::string&)> also;
};

[[nodiscard]] tl::expected<double, std::string> read_real(const NumberForm& form,
                                                          const std::string& typed);
/// @param widest  what the variable holds
[[nodiscard]] tl::expected<std::uint64_t, std::string> read_whole(const NumberForm& form,
                                                                  const std::string& typed,
                                                                  WholeBounds widest);

/// As a number of the variable's kind, or what is wrong with it.
template <class T>
[[nodiscard]] tl::expected<T, std::string> read_as(const NumberForm& form,
                                                   const std::string& typed) {
    if constexpr (std::floating_point<T>) {
        return read_real(form, typed);
    } else {
        const auto number = read_whole(
            form, typed,
            {std::numeric_limits<T>::min(), std::uint64_t{std::numeric_limits<T>::max()}});
        if (!number) return tl::unexpected{number.error()};
        return static_cast<T>(*number);
    }
}

}  // namespace keyhour::cli
