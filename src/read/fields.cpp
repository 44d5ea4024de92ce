#include "fields.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/dates.hpp"
#include "length.hpp"
#include "nearest.hpp"

namespace keyhour::read {

namespace {

constexpr double farthest_m = 10'000;  // a plan larger than this is no plan of a room

const char* const length_forms =
    "accepted: metres as a number, or text with a unit such as \"127 cm\" or \"4 ft 2 in\"";

bool holds_control(const std::string& text) {
    return std::ranges::any_of(
        text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
}

bool is_number(const toml::node& node) {
    return node.is_integer() || node.is_floating_point();
}

double as_number(const toml::node& node) {
    return node.value<double>().value_or(0);
}

}  // namespace

void Findings::add(TextPlace at, std::string found, std::string accepted) {
    add(source_.problem(at, std::move(found), std::move(accepted)));
}

void Findings::add_missing(TextPlace at, std::string found, std::string accepted) {
    if (incomplete_) {
        ++left_out_;
        return;
    }
    add(at, std::move(found), std::move(accepted));
}

std::vector<Problem> Findings::sorted() const {
    std::vector<Problem> out = problems_;
    std::ranges::stable_sort(out, [](const Problem& a, const Problem& b) {
        return std::pair{a.line, a.column} < std::pair{b.line, b.column};
    });
    return out;
}

Fields::Fields(const toml::table& table, std::string label, Findings& findings)
    : table_{&table}, label_{std::move(label)}, findings_{&findings}, before_{findings.count()} {}

TextPlace Fields::place() const {
    const TextPlace at = findings_->source().place(*table_);
    return at.line > 0 ? at : TextPlace{1, 1};
}

TextPlace Fields::place(std::string_view key) const {
    const toml::node* node = table_->get(key);
    return node ? findings_->source().place(*node) : place();
}

std::string Fields::written(const toml::node& node) const {
    return findings_->source().written(node);
}

std::string Fields::found(std::string_view key, const toml::node& node) const {
    return fmt::format("{} = {}{}", key, written(node), label_.empty() ? "" : " in " + label_);
}

std::string Fields::shown(std::string_view key) const {
    const toml::node* node = table_->get(key);
    return node ? found(key, *node) : fmt::format("\"{}\" in {}", key, label_);
}

void Fields::refuse(const toml::node& node, std::string found_text, std::string accepted) {
    findings_->add(findings_->source().place(node), std::move(found_text), std::move(accepted));
}

void Fields::complain(std::string_view key, std::string found_text, std::string accepted) {
    findings_->add(place(key), std::move(found_text), std::move(accepted));
}

void Fields::complain(std::string_view key, const std::string& message) {
    const std::size_t end = std::min(message.find("; "), message.size());
    complain(key, message.substr(0, end),
             end < message.size() ? message.substr(end + 2) : std::string{});
}

void Fields::complain_missing(std::string_view key, std::string found_text, std::string accepted) {
    findings_->add_missing(place(key), std::move(found_text), std::move(accepted));
}

const toml::node* Fields::find(std::string_view key, Need need, const std::string& accepted) {
    known_.emplace_back(key);
    const toml::node* node = table_->get(key);
    if (!node && need == Need::required) {
        findings_->add_missing(place(),
                               fmt::format("\"{}\" is missing in {}", key,
                                           label_.empty() ? findings_->source().whole() : label_),
                               accepted);
    }
    return node;
}

bool Fields::holds_table(std::string_view key) const {
    const toml::node* node = table_->get(key);
    return node && node->is_table();
}

std::optional<std::string> Fields::text(std::string_view key, Need need,
                                        const std::string& example) {
    const std::string accepted =
        example.empty() ? "accepted: text in quotes"
                        : fmt::format("accepted: text in quotes, as in \"{}\"", example);
    const toml::node* node = find(key, need, accepted);
    if (!node) return std::nullopt;
    if (!node->is_string()) {
        refuse(*node, found(key, *node) + " is not text", accepted);
        return std::nullopt;
    }
    auto value = node->value<std::string>();
    if (value && holds_control(*value)) {
        refuse(*node, found(key, *node) + " holds a control character",
               "accepted: text on one line");
        return std::nullopt;
    }
    return value;
}

std::optional<std::string> Fields::name(Need need) {
    auto value = text("name", need);
    if (!value) return value;
    if (value->find_first_not_of(' ') == std::string::npos) {
        complain("name", shown("name") + " is empty", "accepted: a name on one line");
        return std::nullopt;
    }
    if (label_.starts_with("[[")) label_ += fmt::format(" \"{}\"", *value);
    return value;
}

std::optional<double> Fields::number_of(const toml::node& node, std::string_view key,
                                        NumberRule rule, const std::string& accepted) {
    if (!is_number(node)) {
        refuse(node, found(key, node) + " is not a number", accepted);
        return std::nullopt;
    }
    const double value = as_number(node);
    if (!std::isfinite(value)) {
        refuse(node, found(key, node) + " is not a finite number", accepted);
        return std::nullopt;
    }
    if (value < rule.least || value > rule.most) {
        refuse(node, found(key, node) + " is out of range", accepted);
        return std::nullopt;
    }
    return value;
}

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

std::optional<std::vector<std::string>> Fields::names(std::string_view key, Need need) {
    const std::string accepted = "accepted: names in quotes, as in [\"street\", \"yard\"]";
    const toml::node* node = find(key, need, accepted);
    if (!node) return std::nullopt;
    const toml::array* list = node->as_array();
    if (!list) {
        refuse(*node, found(key, *node) + " is not a list of names", accepted);
        return std::nullopt;
    }
    std::vector<std::string> out;
    bool all = true;
    for (const toml::node& entry : *list) {
        const auto value = entry.is_string() ? entry.value<std::string>() : std::nullopt;
        const bool empty = value && value->find_first_not_of(" \t\r\n") == std::string::npos;
        if (!value || empty) {
            refuse(entry, found(key, entry) + (empty ? " is empty" : " is not text"), accepted);
            all = false;
        } else if (holds_control(*value)) {
            refuse(entry, found(key, entry) + " holds a control character",
                   "accepted: each name on one line");
            all = false;
        } else if (std::ranges::find(out, *value) != out.end()) {
            refuse(entry, fmt::format("the name \"{}\" stands twice in {}", *value, key),
                   "each needs its own");
            all = false;
        }
        if (value) out.push_back(*value);
    }
    if (!all) return std::nullopt;
    return out;
}

std::optional<std::pair<std::string, std::string>> Fields::two_texts(std::string_view key,
                                                                     Need need,
                                                                     const std::string& accepted) {
    const toml::node* node = find(key, need, accepted);
    if (!node) return std::nullopt;
    const toml::array* list = node->as_array();
    if (list && list->size() == 2 && list->get(0)->is_string() && list->get(1)->is_string())
        return std::pair{list->get(0)->value<std::string>().value_or(""),
                         list->get(1)->value<std::string>().value_or("")};
    refuse(*node, found(key, *node) + " is not two texts in quotes", accepted);
    return std::nullopt;
}

std::optional<std::vector<std::pair<double, double>>> Fields::pairs(std::string_view key,
                                                                    NumberRule first,
                                                                    NumberRule second) {
    const std::string accepted =
        "accepted: pairs of bearing and altitude in degrees, as in [[0, 3], [180, 2.5]]";
    const toml::node* node = find(key, Need::optional, accepted);
    if (!node) return std::nullopt;
    const toml::array* list = node->as_array();
    if (!list) {
        refuse(*node, found(key, *node) + " is not a list of pairs", accepted);
        return std::nullopt;
    }
    const auto range = [](const char* word, NumberRule rule) {
        return fmt::format("accepted: {} {} to {}{}", word, rule.least, rule.most, rule.unit);
    };
    std::vector<std::pair<double, double>> out;
    for (const toml::node& entry : *list) {
        const toml::array* pair = entry.as_array();
        if (!pair || pair->size() != 2) {
            refuse(entry, found(key, entry) + " is not a pair", accepted);
            continue;
        }
        const auto a = number_of(*pair->get(0), key, first, range("a bearing of", first));
        const auto b = number_of(*pair->get(1), key, second, range("an altitude of", second));
        if (a && b) out.emplace_back(*a, *b);
    }
    return out;
}

std::optional<site::LocalDate> Fields::date(std::string_view key, Need need) {
    const std::string accepted = "accepted: a date as in \"2026-02-10\"";
    const toml::node* node = find(key, need, accepted);
    if (!node) return std::nullopt;
    if (const auto native = node->value_exact<toml::date>()) {
        const auto day = site::read_date(
            fmt::format("{:04}-{:02}-{:02}", native->year, native->month, native->day));
        if (day) return *day;
        refuse(*node, fmt::format("{}: {}", found(key, *node), day.error()), accepted);
        return std::nullopt;
    }
    if (!node->is_string()) {
        refuse(*node, found(key, *node) + " is not a date", accepted);
        return std::nullopt;
    }
    const auto day = site::read_date(node->value<std::string>().value_or(""));
    if (day) return *day;
    refuse(*node, fmt::format("{}: {}", found(key, *node), day.error()), accepted);
    return std::nullopt;
}

std::optional<std::string> Fields::moment(std::string_view key, Need need) {
    const std::string accepted = "accepted: date and time as in \"2026-02-10T15:20\"";
    const toml::node* node = find(key, need, accepted);
    if (!node) return std::nullopt;
    if (node->is_date_time() || node->is_date() || node->is_time()) return written(*node);
    if (node->is_string()) return node->value<std::string>();
    refuse(*node, found(key, *node) + " is no time", accepted);
    return std::nullopt;
}

const toml::table* Fields::table(std::string_view key, Need need, const std::string& example) {
    const bool inner = !label_.empty();
    const std::string accepted = fmt::format("accepted: {}", example);
    const toml::node* node = find(key, need, accepted);
    if (!node) return nullptr;
    if (const toml::table* inside = node->as_table()) return inside;
    if (node->is_array_of_tables() && !inner) {
        refuse(*node->as_array()->get(0), fmt::format("[[{}]] stands for one of many", key),
               fmt::format("there is one {0}: write [{0}]", key));
    } else {
        refuse(*node, found(key, *node) + " is not a table", accepted);
    }
    return nullptr;
}

std::vector<const toml::table*> Fields::tables(std::string_view key) {
    const std::string accepted = fmt::format("write [[{}]], with doubled brackets", key);
    const toml::node* node = find(key, Need::optional, accepted);
    std::vector<const toml::table*> out;
    if (!node) return out;
    const toml::array* list = node->as_array();
    if (!list) {
        const bool single = node->is_table();
        refuse(*node,
               single ? fmt::format("[{}] stands for the only one", key)
                      : found(key, *node) + " is not a table",
               accepted);
        return out;
    }
    for (const toml::node& entry : *list) {
        if (const toml::table* inside = entry.as_table()) {
            out.push_back(inside);
        } else {
            refuse(entry, found(key, entry) + " is not a table", accepted);
        }
    }
    return out;
}

void Fields::refuse_unknown() {
    for (const auto& [key, node] : *table_) {
        const std::string_view word = key.str();
        if (std::ranges::find(known_, word) != known_.end()) continue;
        const TextPlace at = findings_->source().place(key, node);
        const std::string where = label_.empty() ? findings_->source().whole() : label_;
        const bool top = label_.empty() && !node.is_value();
        const char *const open = node.is_array() ? "[[" : "[", *const close =
                                                                   node.is_array() ? "]]" : "]";
        findings_->add(at,
                       top ? fmt::format("unknown table {}{}{}", open, word, close)
                           : fmt::format("unknown key \"{}\" in {}", word, where),
                       suggestion(word, known_));
    }
}

}  // namespace keyhour::read
