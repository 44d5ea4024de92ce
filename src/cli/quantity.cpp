#include "quantity.hpp"

#include <array>

#include "numbers.hpp"
#include "read/duration.hpp"
#include "read/length.hpp"

namespace keyhour::cli {
namespace {

constexpr double minute_s = 60, millimetres = 1000;

/// What may stand behind the number of an option, and what it is in the option's unit.
struct Unit {
    std::string_view shown, suffix;
    double factor = 1;
};

constexpr std::array units{
    Unit{"DEG", "degrees"},  Unit{"DEG", "degree"},      Unit{"DEG", "deg"},
    Unit{"DEG", "\u00b0"},   Unit{"DEGREES", "degrees"}, Unit{"DEGREES", "deg"},
    Unit{"DEGREES", "true"}, Unit{"DEGREES", "\u00b0"},  Unit{"PERCENT", "%"},
    Unit{"LX", "klx", 1000}, Unit{"LX", "lx"},           Unit{"LX", "lux"},
    Unit{"KM/H", "km/h"},    Unit{"FPS", "fps"},         Unit{"STOPS", "stops"},
    Unit{"STOPS", "stop"},   Unit{"C", "lx s"},
};

std::string without_blanks_at_end(std::string text) {
    while (text.ends_with(' '))
        text.pop_back();
    return text;
}

/// "1/3"
std::optional<double> fraction(const std::string& text) {
    const std::size_t stroke = text.find('/');
    if (stroke == std::string::npos) return std::nullopt;
    const auto over = read_number(text.substr(0, stroke), {});
    const auto under = read_number(text.substr(stroke + 1), {});
    if (!over || !under || *under == 0) return std::nullopt;
    return *over / *under;
}

}  // namespace

std::optional<double> read_with_unit(const std::string& text, std::string_view shown) {
    if (shown == "MIN" || shown == "S") {
        const auto time = read::read_duration(text);
        if (!time) return std::nullopt;
        return shown == "S" ? time->count() : time->count() / minute_s;
    }
    if (shown == "M" || shown == "MM") {
        const auto length = read::read_length(text);
        if (!length) return std::nullopt;
        return shown == "M" ? *length : *length * millimetres;
    }
    for (const Unit& unit : units) {
        if (unit.shown != shown || !text.ends_with(unit.suffix)) continue;
        const std::string number =
            without_blanks_at_end(text.substr(0, text.size() - unit.suffix.size()));
        if (const auto value = read_number(number, {})) return *value * unit.factor;
        if (shown == "STOPS")
            if (const auto value = fraction(number)) return value;
    }
    if (shown == "STOPS") return fraction(text);
    if (shown == "ISO" && text.starts_with("ISO "))
        if (const auto value = read_number(text.substr(4), {})) return *value;
    return std::nullopt;
}

}  // namespace keyhour::cli
