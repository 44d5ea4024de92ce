// What Fields reads as measures: numbers, lengths, ranges, places of the plan.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "fields.hpp"
#include "length.hpp"
#include "nearest.hpp"
#include "toml_numbers.hpp"

namespace keyhour::read {
namespace {

constexpr double farthest_m = 10'000;  // a plan larger than this is no plan of a room

const char* const length_forms =
    "accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\"";

}  // namespace

std::optional<double> Fields::number(std::string_view key, Need need, NumberRule rule) {
    const std::string accepted =
        fmt::format("accepted: {} to {}{}", rule.least, rule.most, rule.unit);
    const toml::node* node = find(key, need, accepted);
    return node ? number_of(*node, key, rule, accepted) : std::nullopt;
}

std::optional<int> Fields::whole(std::string_view key, Need need, int least, int most) {
    const std::string accepted =
        least == most ? fmt::format("accepted: {}", least)
                      : fmt::format("accepted: a whole number, {} to {}", least, most);
    const toml::node* node = find(key, need, accepted);
    if (!node) return std::nullopt;
    if (!node->is_integer()) {
        refuse(*node, found(key, *node) + " is not a whole number", accepted);
        return std::nullopt;
    }
    const auto value = node->value<std::int64_t>().value_or(0);
    if (value < least || value > most) {
        refuse(*node, found(key, *node) + " is out of range", accepted);
        return std::nullopt;
    }
    return static_cast<int>(value);
}

std::optional<double> Fields::length_of(const toml::node& node, std::string_view key,
                                        LengthRule rule, bool* plain) {
    double value = 0;
    const bool number = is_number(node);
    if (plain) *plain = number;
    if (number) {
        value = as_number(node);
    } else if (node.is_string()) {
        const auto length = read_length(node.value<std::string>().value_or(""));
        if (!length) {
            refuse(node, found(key, node) + " is not a length: " + length.error(), length_forms);
            return std::nullopt;
        }
        value = *length;
    } else {
        refuse(node, found(key, node) + " is not a length", length_forms);
        return std::nullopt;
    }
    if (!std::isfinite(value)) {
        refuse(node, found(key, node) + " is not a finite number", range_of(rule));
        return std::nullopt;
    }
    const bool low = rule.above_least ? value <= rule.least_m : value < rule.least_m;
    if (number && !low && value > rule.asks_above_m) {
        const UnitDoubt doubt = unit_doubt(value, written(node), rule.asks_above_m);
        refuse(node, found(key, node) + ": " + doubt.question, doubt.answer);
        return std::nullopt;
    }
    if (low || value > rule.most_m) {
        refuse(node, found(key, node) + " is out of range", range_of(rule));
        return std::nullopt;
    }
    return value;
}

std::optional<double> Fields::length(std::string_view key, Need need, LengthRule rule) {
    const toml::node* node = find(key, need, length_forms);
    return node ? length_of(*node, key, rule) : std::nullopt;
}

template <class Each>
std::optional<std::pair<double, double>> Fields::ends_of(const toml::array& range,
                                                         std::string_view key,
                                                         const std::string& accepted, Each each) {
    if (range.size() != 2) {
        refuse(range, found(key, range) + " is not a range", accepted);
        return std::nullopt;
    }
    const std::optional<double> first = each(*range.get(0)), second = each(*range.get(1));
    if (!first || !second) return std::nullopt;
    return std::pair{*first, *second};
}

std::optional<Measured> Fields::measured_length(std::string_view key, Need need, LengthRule rule) {
    const std::string range_form = fmt::format(
        "accepted: the least, then the most that it may be, as in {} = [0.2, 0.35]", key);
    const toml::node* node = find(key, need, length_forms);
    if (!node) return std::nullopt;
    const auto read = [&](const toml::node& part) { return length_of(part, key, rule); };
    const toml::array* range = node->as_array();
    if (!range) {
        const auto value = read(*node);
        return value ? std::optional{Measured{*value}} : std::nullopt;
    }
    const auto ends = ends_of(*range, key, range_form, read);
    if (!ends) return std::nullopt;
    if (ends->first > ends->second) {
        refuse(*node, found(key, *node) + " runs backwards", range_form);
        return std::nullopt;
    }
    return Measured{0.5 * (ends->first + ends->second), 0.5 * (ends->second - ends->first)};
}

std::optional<Measured> Fields::measured_turn(std::string_view key, Need need, NumberRule rule) {
    const std::string accepted =
        fmt::format("accepted: {} to {}{}", rule.least, rule.most, rule.unit);
    const toml::node* node = find(key, need, accepted);
    if (!node) return std::nullopt;
    const auto read = [&](const toml::node& part) { return number_of(part, key, rule, accepted); };
    const toml::array* range = node->as_array();
    if (!range) {
        const auto value = read(*node);
        return value ? std::optional{Measured{*value}} : std::nullopt;
    }
    const auto ends = ends_of(*range, key, accepted + ", or two of them, clockwise", read);
    if (!ends) return std::nullopt;
    const double wide = std::remainder(ends->second - ends->first - 180, 360) + 180;  // 0..360
    return Measured{ends->first + 0.5 * wide, 0.5 * wide};
}

std::optional<bool> Fields::yes_or_no(std::string_view key) {
    const std::string accepted = "accepted: true or false, without quotes";
    const toml::node* node = find(key, Need::optional, accepted);
    if (!node || node->is_boolean()) return node ? node->value<bool>() : std::nullopt;
    refuse(*node, found(key, *node) + " is neither true nor false", accepted);
    return std::nullopt;
}

std::optional<std::size_t> Fields::choice(std::string_view key, Need need,
                                          const std::vector<std::string>& words) {
    const std::string accepted = "accepted: " + quoted_list(words);
    const toml::node* node = find(key, need, accepted);
    if (!node) return std::nullopt;
    if (node->is_string()) {
        const std::string word = node->value<std::string>().value_or("");
        const auto it = std::ranges::find(words, word);
        if (it != words.end()) return static_cast<std::size_t>(it - words.begin());
    }
    refuse(*node, found(key, *node) + " is not known", accepted);
    return std::nullopt;
}

std::optional<std::size_t> Fields::reference(std::string_view key, Need need,
                                             const KnownNames& names) {
    const std::string accepted = fmt::format("accepted: the name of a {}", names.kind);
    const toml::node* node = find(key, need, accepted);
    if (!node) return std::nullopt;
    if (!node->is_string()) {
        refuse(*node, found(key, *node) + " is not text", accepted);
        return std::nullopt;
    }
    const std::string word = node->value<std::string>().value_or("");
    const auto it = std::ranges::find(names.words, word);
    if (it != names.words.end()) return static_cast<std::size_t>(it - names.words.begin());
    if (names.complete) {
        findings_->add_missing(
            findings_->source().place(*node),
            fmt::format("{}: there is no such {}", found(key, *node), names.kind),
            suggestion(word, names.words));
    } else {
        findings_->leave_out();
    }
    return std::nullopt;
}

std::optional<Coordinates> Fields::point_of(const toml::node& node, std::string_view key) {
    const toml::array* pair = node.as_array();
    if (!pair || pair->size() != 2) {
        refuse(node, found(key, node) + " is not a point", "accepted: [x, y], as in [3.2, 1.8]");
        return std::nullopt;
    }
    const LengthRule anywhere{-farthest_m, farthest_m};
    bool plain_x = false, plain_y = false;
    const auto x = length_of(*pair->get(0), key, anywhere, &plain_x);
    const auto y = length_of(*pair->get(1), key, anywhere, &plain_y);
    if (!x || !y) return std::nullopt;
    return Coordinates{{*x, *y}, plain_x || plain_y};
}

std::optional<Coordinates> Fields::point(std::string_view key, Need need) {
    const toml::node* node = find(key, need, "accepted: [x, y], as in [3.2, 1.8]");
    return node ? point_of(*node, key) : std::nullopt;
}

std::optional<std::vector<Coordinates>> Fields::corners(std::string_view key, Need need) {
    const std::string accepted =
        "accepted: at least three corners, as in [[0, 0], [7.2, 0], [7.2, 4.6]]";
    constexpr std::size_t most_corners = 1000;
    const toml::node* node = find(key, need, accepted);
    if (!node) return std::nullopt;
    const toml::array* list = node->as_array();
    if (!list) {
        refuse(*node, found(key, *node) + " is not a list of corners", accepted);
        return std::nullopt;
    }
    if (list->size() < 3 || list->size() > most_corners) {
        refuse(
            *node, fmt::format("{} in {} has {} corners", key, label_, list->size()),
            list->size() < 3 ? accepted : fmt::format("accepted: up to {} corners", most_corners));
        return std::nullopt;
    }
    std::vector<Coordinates> out;
    bool all = true;
    for (const toml::node& corner : *list) {
        const auto at = point_of(corner, key);
        all = all && at.has_value();
        if (at) out.push_back(*at);
    }
    if (!all) return std::nullopt;
    return out;
}

std::optional<std::vector<double>> Fields::lengths(std::string_view key, Need need,
                                                   std::size_t count, LengthRule rule) {
    const std::string accepted = fmt::format("accepted: {} lengths in brackets", count);
    const toml::node* node = find(key, need, accepted);
    if (!node) return std::nullopt;
    const toml::array* list = node->as_array();
    if (!list || list->size() != count) {
        refuse(*node, fmt::format("{} is not {} lengths", found(key, *node), count), accepted);
        return std::nullopt;
    }
    std::vector<double> out;
    for (const toml::node& part : *list) {
        if (const auto value = length_of(part, key, rule)) out.push_back(*value);
    }
    if (out.size() != count) return std::nullopt;
    return out;
}

}  // namespace keyhour::read
