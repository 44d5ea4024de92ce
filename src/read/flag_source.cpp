#include "flag_source.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "nearest.hpp"
#include "words/blanks.hpp"
#include "words/decimal.hpp"

namespace keyhour::read {
namespace {

// A long flag goes over several lines, in quotes.
constexpr std::string_view blanks = " \t\n";

bool is_name(char c) {
    return (c >= 'a' && c <= 'z') || c == '_';
}

/// Where the next NAME= begins at or after `from`; npos if there is none.
std::size_t next_name(std::string_view text, std::size_t from) {
    for (std::size_t at = text.find('=', from); at != std::string_view::npos;
         at = text.find('=', at + 1)) {
        std::size_t begin = at;
        while (begin > from && is_name(text[begin - 1]))
            --begin;
        const bool after_blank =
            begin == 0 || blanks.find(text[begin - 1]) != std::string_view::npos;
        if (begin < at && after_blank) return begin;
    }
    return std::string_view::npos;
}

std::optional<double> number_typed(std::string_view text) {
    double value = 0;
    const auto [end, error] = words::read_decimal(text, value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

/// Text is always text: a wall may be called "2".
bool is_text(std::string_view name) {
    constexpr std::string_view names[] = {"name",      "wall",  "window",   "corner", "north",
                                          "at",        "sun",   "measured", "left",   "right",
                                          "seen_from", "order", "hand",     "turn",   "other"};
    return std::ranges::find(names, name) != std::end(names);
}

/// "193 degrees", "196 true": an angle as the answers print it, without its unit.
std::string_view without_unit(std::string_view name, std::string_view value) {
    constexpr std::string_view angles[] = {"faces", "within_deg", "angle_deg", "turn_deg"};
    if (std::ranges::find(angles, name) == std::end(angles)) return value;
    for (const std::string_view unit : {"degrees", "degree", "deg", "true", "\u00b0"})
        if (value.ends_with(unit) &&
            number_typed(words::stripped(value.substr(0, value.size() - unit.size()))))
            return words::stripped(value.substr(0, value.size() - unit.size()));
    return value;
}

void put(toml::array& list, std::string_view text) {
    if (const auto number = number_typed(text))
        list.push_back(*number);
    else
        list.push_back(std::string{text});
}

void put(toml::table& tree, std::string_view name, std::string_view value) {
    value = without_unit(name, value);
    const bool may_be_number = !is_text(name);
    const std::size_t comma = value.find(',');
    if (const auto number = number_typed(value); number && may_be_number) {
        tree.insert_or_assign(name, *number);
    } else if (may_be_number && comma != std::string_view::npos) {
        toml::array pair;
        put(pair, words::stripped(value.substr(0, comma)));
        put(pair, words::stripped(value.substr(comma + 1)));
        tree.insert_or_assign(name, std::move(pair));
    } else {
        tree.insert_or_assign(name, std::string{value});
    }
}

}  // namespace

std::optional<Problem> FlagSource::parse(std::string_view text,
                                         const std::vector<std::string>& names) {
    const std::string accepted =
        fmt::format("accepted: NAME=VALUE, blanks between, with the names {}", quoted_list(names));
    std::size_t at = next_name(text, 0);
    if (at == std::string_view::npos || !words::stripped(text.substr(0, at)).empty())
        return problem({},
                       fmt::format("\"{}\" has no NAME=",
                                   words::stripped(text.substr(0, std::min(at, text.size())))),
                       accepted);
    while (at != std::string_view::npos) {
        const std::size_t equals = text.find('=', at);
        const std::string_view name = text.substr(at, equals - at);
        at = next_name(text, equals + 1);
        std::string_view value = words::stripped(text.substr(
            equals + 1, (at == std::string_view::npos ? text.size() : at) - equals - 1));
        if (value.size() >= 2 && value.starts_with('"') && value.ends_with('"'))
            value = value.substr(1, value.size() - 2);  // quoted, as in a file
        if (value.empty())
            return problem({}, fmt::format("{}= has no value", name), "accepted: NAME=VALUE");
        if (tree_.contains(name))
            return problem({}, fmt::format("{}= stands twice", name), "each once");
        put(tree_, name, value);
    }
    return std::nullopt;
}

std::string FlagSource::written(const toml::node& node) const {
    if (const auto* text = node.as_string()) return '"' + text->get() + '"';
    if (const auto number = node.value<double>()) return fmt::format("{}", *number);
    std::string out = "[";
    if (const auto* list = node.as_array())
        for (const toml::node& entry : *list)
            out += (out.size() > 1 ? ", " : "") + written(entry);
    return out + ']';
}

Problem FlagSource::problem(TextPlace, std::string found, std::string accepted) const {
    return {name_, 0, 0, std::move(found), std::move(accepted), {}};
}

}  // namespace keyhour::read
