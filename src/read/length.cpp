#include "length.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <vector>

namespace keyhour::read {

namespace {

struct LengthUnit {
    std::string_view name;
    double metres;
    char system;  // m: metric, f: feet and inches
};

constexpr std::array length_units{
    LengthUnit{"millimetres", 0.001, 'm'},
    LengthUnit{"millimeters", 0.001, 'm'},
    LengthUnit{"millimetre", 0.001, 'm'},
    LengthUnit{"millimeter", 0.001, 'm'},
    LengthUnit{"mm", 0.001, 'm'},
    LengthUnit{"centimetres", 0.01, 'm'},
    LengthUnit{"centimeters", 0.01, 'm'},
    LengthUnit{"centimetre", 0.01, 'm'},
    LengthUnit{"centimeter", 0.01, 'm'},
    LengthUnit{"cm", 0.01, 'm'},
    LengthUnit{"metres", 1, 'm'},
    LengthUnit{"meters", 1, 'm'},
    LengthUnit{"metre", 1, 'm'},
    LengthUnit{"meter", 1, 'm'},
    LengthUnit{"m", 1, 'm'},
    LengthUnit{"feet", 0.3048, 'f'},
    LengthUnit{"foot", 0.3048, 'f'},
    LengthUnit{"ft", 0.3048, 'f'},
    LengthUnit{"\u2032", 0.3048, 'f'},
    LengthUnit{"\u2019", 0.3048, 'f'},
    LengthUnit{"''", 0.0254, 'f'},
    LengthUnit{"'", 0.3048, 'f'},
    LengthUnit{"inches", 0.0254, 'f'},
    LengthUnit{"inch", 0.0254, 'f'},
    LengthUnit{"in", 0.0254, 'f'},
    LengthUnit{"\u2033", 0.0254, 'f'},
    LengthUnit{"\u201d", 0.0254, 'f'},
    LengthUnit{"\"", 0.0254, 'f'},
};

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

class LengthReader {
public:
    explicit LengthReader(std::string_view text) : rest_{text} {}

    tl::expected<double, std::string> read() {
        skip_blanks();
        if (rest_.empty()) return tl::unexpected{std::string{"it is empty"}};
        const bool negative = take("-");
        if (!negative) take("+");
        double total = 0;
        const LengthUnit* last = nullptr;
        do {
            const auto number = take_number();
            if (!number) return tl::unexpected{number.error()};
            const LengthUnit* unit = take_unit();
            if (unit == nullptr) return tl::unexpected{missing_unit()};
            if (last && (unit->system != last->system || unit->metres >= last->metres)) {
                return tl::unexpected{
                    fmt::format("\"{}\" cannot follow \"{}\"", unit->name, last->name)};
            }
            total += *number * unit->metres;
            last = unit;
            skip_blanks();
        } while (!rest_.empty());
        return negative ? -total : total;
    }

private:
    void skip_blanks() {
        while (!rest_.empty() && (rest_.front() == ' ' || rest_.front() == '\t')) {
            rest_.remove_prefix(1);
        }
    }

    bool take(std::string_view token) {
        if (!rest_.starts_with(token)) return false;
        rest_.remove_prefix(token.size());
        skip_blanks();
        return true;
    }

    std::optional<double> take_digits(bool with_point) {
        std::size_t n = 0;
        bool digit = false, point = false;
        while (n < rest_.size() &&
               (is_digit(rest_[n]) || (with_point && !point && rest_[n] == '.'))) {
            digit = digit || is_digit(rest_[n]);
            point = point || rest_[n] == '.';
            ++n;
        }
        if (!digit || n > 30) return std::nullopt;
        const double value = std::strtod(std::string{rest_.substr(0, n)}.c_str(), nullptr);
        rest_.remove_prefix(n);
        return value;
    }

    /// "2", "2.5", "1/2", "2 1/2"
    tl::expected<double, std::string> take_number() {
        const auto first = take_digits(true);
        if (!first) return tl::unexpected{fmt::format("a number is missing before \"{}\"", rest_)};
        if (rest_.starts_with(",")) {
            return tl::unexpected{std::string{"decimals stand after a point, not a comma"}};
        }
        if (rest_.starts_with("/")) return take_denominator(*first);
        skip_blanks();
        if (rest_.empty() || !is_digit(rest_.front())) return *first;
        const auto numerator = take_digits(false);
        if (!numerator || !rest_.starts_with("/")) return tl::unexpected{missing_unit()};
        const auto fraction = take_denominator(*numerator);
        if (!fraction) return fraction;
        return *first + *fraction;
    }

    tl::expected<double, std::string> take_denominator(double numerator) {
        rest_.remove_prefix(1);
        const auto denominator = take_digits(false);
        if (!denominator || *denominator == 0) {
            return tl::unexpected{std::string{"a fraction needs a number below its stroke"}};
        }
        skip_blanks();
        return numerator / *denominator;
    }

    const LengthUnit* take_unit() {
        skip_blanks();
        for (const LengthUnit& unit : length_units) {
            if (!rest_.starts_with(unit.name)) continue;
            const bool word = is_letter(unit.name.back());
            if (word && rest_.size() > unit.name.size() && is_letter(rest_[unit.name.size()]))
                continue;
            rest_.remove_prefix(unit.name.size());
            if (word) take(".");
            return &unit;
        }
        return nullptr;
    }

    std::string missing_unit() const {
        if (rest_.empty() || is_digit(rest_.front())) return "it has no unit";
        return fmt::format("\"{}\" is no unit of length", rest_);
    }

    std::string_view rest_;
};

}  // namespace

tl::expected<double, std::string> read_length(std::string_view text) {
    return LengthReader{text}.read();
}

UnitDoubt unit_doubt(double value_m, const std::string& as_written, double largest_m) {
    struct Candidate {
        const char *plural, *unit;
        double metres;
    };
    constexpr std::array candidates{
        Candidate{"feet", "ft", 0.3048}, Candidate{"inches", "in", 0.0254},
        Candidate{"centimetres", "cm", 0.01}, Candidate{"millimetres", "mm", 0.001}};
    const double size = std::abs(value_m);
    std::string asked, offered;
    for (const Candidate& c : candidates) {
        const double meant = size * c.metres;
        // Feet explain a small excess; what needs millimetres is far beyond the rest.
        const bool likely =
            meant <= largest_m && meant >= largest_m / 20 && (c.metres > 0.005 || size >= 200);
        if (!likely) continue;
        asked += (asked.empty() ? "" : " or ") + std::string{c.plural};
        offered += fmt::format("{}\"{} {}\"", offered.empty() ? "" : " or ", as_written, c.unit);
        if (c.metres > 0.1) break;
    }
    if (asked.empty()) {
        return {"is the unit metres?",
                fmt::format("write \"{} m\" if metres are meant", as_written)};
    }
    return {fmt::format("is this {}?", asked),
            fmt::format("write {}, or \"{} m\" if metres are meant", offered, as_written)};
}

}  // namespace keyhour::read
