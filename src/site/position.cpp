#include "keyhour/site/position.hpp"

#include <fmt/format.h>

#include <GeographicLib/GeoCoords.hpp>
#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <exception>
#include <optional>
#include <string_view>
#include <vector>

#include "keyhour/site/quoted.hpp"

namespace keyhour::site {
namespace {

constexpr const char* kAccepted =
    "accepted: latitude and longitude as \"52.9536N 1.1505W\" or \"52d57'13\\\"N 1d9'2\\\"W\" "
    "(no space inside an angle), UTM as \"30n 624247 5870973\", or MGRS as \"30UXD2424770973\"";

tl::unexpected<std::string> refused(const std::string& text, const std::string& why) {
    return tl::unexpected{
        fmt::format("position {} {}; {}", site::quoted(text, 60), why, kAccepted)};
}

std::vector<std::string> words_of(const std::string& text) {
    std::vector<std::string> words(1);
    for (const char c : text) {
        if (c == ' ' || c == '\t' || c == ',' || c == '\n' || c == '\r') {
            if (!words.back().empty()) words.emplace_back();
        } else {
            words.back() += c;
        }
    }
    if (words.back().empty()) words.pop_back();
    return words;
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

// Plain decimals with an optional hemisphere letter; so that numbers out of range are named.
std::optional<double> decimal(const std::string& word) {
    std::string body = word;
    double sign = 1;
    const auto letter = [](char c) {
        return std::string_view{"NSEWnsew"}.find(c) != std::string_view::npos;
    };
    if (!body.empty() && letter(body.back())) {
        const char c = static_cast<char>(std::toupper(static_cast<unsigned char>(body.back())));
        sign = c == 'S' || c == 'W' ? -1 : 1;
        body.pop_back();
    }
    const std::size_t first = body.find_first_not_of("+-");
    if (first == std::string::npos || first > 1) return std::nullopt;
    if (body.find_first_not_of("0123456789.", first) != std::string::npos) return std::nullopt;
    if (std::count(body.begin(), body.end(), '.') > 1 || body.size() > 24) return std::nullopt;
    if (std::none_of(body.begin(), body.end(), is_digit)) return std::nullopt;
    try {
        return sign * std::stod(body);
    } catch (const std::exception&) {
        return std::nullopt;
    }
}

bool is_grid_reference(const std::vector<std::string>& words) {
    if (words.size() != 1) return false;
    const std::string& w = words[0];
    std::size_t i = 0;
    while (i < w.size() && is_digit(w[i]))
        ++i;
    return i <= 2 && i < w.size() && std::isalpha(static_cast<unsigned char>(w[i])) != 0;
}

// Without the letter that says which of the two an angle is.
bool is_bare(const std::string& word) {
    return word.find_first_of("NSEWnsew") == std::string::npos;
}

// How many digits stand after the letters of an MGRS reference.
std::size_t digits_at_end(const std::string& word) {
    std::size_t n = 0;
    while (n < word.size() && is_digit(word[word.size() - 1 - n]))
        ++n;
    return n;
}

// GeographicLib's own words where they speak of what was written, ours where they would mislead.
std::string reason(const std::vector<std::string>& words, const std::string& library_words) {
    if (words.empty()) return "is empty";
    if (words.size() == 1 && !is_grid_reference(words)) return "is one number where two are needed";
    if (words.size() == 2) {
        const auto first = decimal(words[0]), second = decimal(words[1]);
        if (first && std::abs(*first) > 90 && words[0].find_first_of("EWew") == std::string::npos) {
            const bool may_be_swapped = second && std::abs(*second) <= 90 &&
                                        std::abs(*first) <= 180 && is_bare(words[0]) &&
                                        is_bare(words[1]);
            return fmt::format(
                "has latitude {:.10g}, which is not in -90..90{}", *first,
                may_be_swapped
                    ? fmt::format("; latitude stands first: write \"{} {}\"?", words[1], words[0])
                    : "");
        }
        if (second && std::abs(*second) > 90 && words[1].find_first_of("NSns") != std::string::npos)
            return fmt::format("has latitude {:.10g}, which is not in -90..90", *second);
        for (const char* told : {"interpreted as", "not in range", "not in [-"})
            if (library_words.find(told) != std::string::npos)
                return "cannot be read (" + library_words + ")";
        return "cannot be read";
    }
    if (words.size() > 3) return "has more than two angles, or a space or comma inside an angle";
    return "cannot be read";
}

// "52.9536 degrees NORTH, 1.1505 degrees WEST", "52 deg 57.22 min N": as answers print it, or with
// a blank before the letter. One angle after the other, each closed by its letter.
class AnglesInWords {
public:
    explicit AnglesInWords(std::string_view text) : rest_{text} {}

    /// As the library reads it, "52d57.22'N 1d9.03'W"; nothing if it is written otherwise.
    std::optional<std::string> read() {
        std::string first, second;
        if (!take_angle(first) || !take_angle(second)) return std::nullopt;
        skip_blanks();
        if (!rest_.empty()) return std::nullopt;
        return first + ' ' + second;
    }

private:
    static constexpr std::string_view marks = "d'\"";

    void skip_blanks() {
        rest_.remove_prefix(std::min(rest_.find_first_not_of(" \t,"), rest_.size()));
    }

    std::string take_letters() {
        skip_blanks();
        std::string word;
        while (!rest_.empty() && std::isalpha(static_cast<unsigned char>(rest_.front())) != 0) {
            word += static_cast<char>(std::tolower(static_cast<unsigned char>(rest_.front())));
            rest_.remove_prefix(1);
        }
        return word;
    }

    std::string take_number() {
        skip_blanks();
        const std::size_t n = std::min(rest_.find_first_not_of("0123456789."), rest_.size());
        std::string number{rest_.substr(0, n)};
        rest_.remove_prefix(n);
        return number;
    }

    static std::optional<std::size_t> unit(const std::string& word) {
        constexpr std::array<std::array<std::string_view, 4>, 3> words{
            {{"degrees", "degree", "deg", "d"},
             {"minutes", "minute", "min", "m"},
             {"seconds", "second", "sec", ""}}};
        for (std::size_t i = 0; i < words.size(); ++i)
            if (!word.empty() && std::ranges::find(words[i], word) != words[i].end()) return i;
        return std::nullopt;
    }

    static std::optional<char> hemisphere(const std::string& word) {
        constexpr std::array<std::string_view, 4> names{"north", "south", "east", "west"};
        for (const std::string_view name : names)
            if (word == name || word == name.substr(0, 1))
                return static_cast<char>(std::toupper(static_cast<unsigned char>(name.front())));
        return std::nullopt;
    }

    bool take_angle(std::string& angle) {
        for (std::size_t part = 0; part < marks.size(); ++part) {
            const std::string number = take_number();
            if (number.empty()) return false;
            std::string word = take_letters();
            if (const auto named = unit(word)) {
                if (*named != part) return false;
                word = take_letters();
            }
            const auto letter = hemisphere(word);
            angle += number;
            if (part > 0 || !letter) angle += marks[part];
            if (letter) {
                angle += *letter;
                return true;
            }
            // Only what comes last may have decimals.
            if (!word.empty() || number.find('.') != std::string::npos) return false;
        }
        return false;
    }

    std::string_view rest_;
};

std::string number(double value) {
    std::string text = fmt::format("{:.4f}", value);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string minutes_of(double degrees, char positive, char negative) {
    const auto hundredths = std::llround(std::abs(degrees) * 6000);
    const auto whole = hundredths / 6000;
    return fmt::format("{} deg {}.{:02} min {}", whole, hundredths / 100 % 60, hundredths % 100,
                       degrees < 0 ? negative : positive);
}

}  // namespace

tl::expected<Coordinates, std::string> read_position(const std::string& text) {
    const std::string plain = AnglesInWords{text}.read().value_or(text);
    const std::vector<std::string> words = words_of(plain);
    if (words.empty()) return refused(text, "is empty");
    if (text.size() > 200) return refused(text, "is too long");
    GeographicLib::GeoCoords coords;
    try {
        coords.Reset(plain);
    } catch (const std::exception& e) {
        return refused(text, reason(words, e.what()));
    }
    const double latitude = coords.Latitude();
    const double longitude = coords.Longitude();
    if (!std::isfinite(latitude) || !std::isfinite(longitude))
        return refused(text, "is not a number");
    if (words.size() == 1 && digits_at_end(words[0]) < 4)
        return refused(text, "is an MGRS square of 10 km or more; give 1 km or finer (4 digits)");
    // One turn too far is a slip of typing, not a way to write a longitude.
    if (std::abs(longitude) > 180) {
        std::string why =
            fmt::format("has longitude {:.10g}, which is not in -180..180", longitude);
        if (std::abs(longitude) < 540)
            why += fmt::format("; did you mean {:.10g}?", std::remainder(longitude, 360.0));
        return refused(text, why);
    }
    return Coordinates{Angle::degrees(latitude), wrapped_half_turn(Angle::degrees(longitude))};
}

std::string in_words(const Coordinates& place) {
    const double latitude = place.latitude.in_degrees();
    const double longitude = place.longitude.in_degrees();
    return fmt::format("{} degrees {}, {} degrees {}", number(std::abs(latitude)),
                       latitude < 0 ? "SOUTH" : "NORTH", number(std::abs(longitude)),
                       longitude < 0 ? "WEST" : "EAST");
}

std::string degrees_and_minutes(const Coordinates& place) {
    return minutes_of(place.latitude.in_degrees(), 'N', 'S') + ", " +
           minutes_of(place.longitude.in_degrees(), 'E', 'W');
}

}  // namespace keyhour::site
