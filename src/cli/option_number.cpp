#include "option_number.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "quantity.hpp"

namespace keyhour::cli {
namespace {

/// The unit behind what the help shows for a value; empty if it has none.
std::string_view unit_of(std::string_view shown) {
    constexpr std::array<std::pair<std::string_view, std::string_view>, 11> units{
        {{"M", "metres"},
         {"MM", "millimetres"},
         {"MIN", "minutes"},
         {"S", "seconds"},
         {"DEG", "degrees"},
         {"DEGREES", "degrees"},
         {"PERCENT", "percent"},
         {"LX", "lux"},
         {"KM/H", "kilometres an hour"},
         {"FPS", "frames a second"},
         {"STOPS", "stops"}}};
    const auto at = std::find_if(units.begin(), units.end(),
                                 [&](const auto& unit) { return unit.first == shown; });
    return at == units.end() ? std::string_view{} : at->second;
}

/// In the option's own other notation, or with its unit: as a number alone, so that one reading
/// tells what is wrong with it. The text itself if it is neither.
std::string as_number(const NumberForm& form, const std::string& text) {
    std::optional<double> value = read_with_unit(text, form.type);
    if (!value && form.also) value = form.also(text);
    return value ? fmt::format("{}", *value) : text;
}

}  // namespace

tl::expected<double, std::string> read_real(const NumberForm& form, const std::string& typed) {
    return read_number(as_number(form, typed), unit_of(form.type));
}

tl::expected<std::uint64_t, std::string> read_whole(const NumberForm& form,
                                                    const std::string& typed, WholeBounds widest) {
    return read_whole_number(as_number(form, typed), unit_of(form.type),
                             form.bounds.value_or(widest));
}

}  // namespace keyhour::cli
