#include "fields.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keyhour/site/dates.hpp"
#include "length.hpp"
#include "nearest.hpp"
#include "toml_numbers.hpp"

namespace keyhour::read {

namespace {

bool holds_control(const std::string& text) {
    return std::ranges::any_of(
        text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
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
    return at.line != 0 ? at : TextPlace{1, 1};  // below zero: a change's
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
