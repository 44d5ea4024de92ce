#include "json_source.hpp"

#include <fmt/format.h>

#include <cmath>
#include <cstdint>
#include <limits>
#include <nlohmann/json.hpp>
#include <vector>

#include "words/utf8.hpp"

namespace keyhour::read {

namespace {

constexpr std::size_t deepest_level = 32;  // a location needs five levels

const char* const accepted_line =
    "accepted: one location a line, {\"format\": 1, \"site\": {...}, ...}";

/// Builds the tree as the parser goes; what the location's data model does not know ends it.
class TreeBuilder final : public nlohmann::json_sax<nlohmann::json> {
public:
    explicit TreeBuilder(toml::table& root) : root_{root} {}

    [[nodiscard]] const std::string& fault() const noexcept { return fault_; }
    [[nodiscard]] const std::string& advice() const noexcept { return advice_; }
    /// Of a syntax error, in bytes from 1; 0 for the other faults.
    [[nodiscard]] std::size_t position() const noexcept { return position_; }

    bool null() override {
        return refuse(
            key_.empty() ? "null stands in the line" : fmt::format("\"{}\" is null", key_),
            "leave out what is not known");
    }
    bool boolean(bool value) override { return put(value); }
    bool number_integer(number_integer_t value) override { return put(std::int64_t{value}); }
    bool number_unsigned(number_unsigned_t value) override {
        constexpr auto most =
            static_cast<number_unsigned_t>(std::numeric_limits<std::int64_t>::max());
        return value <= most ? put(static_cast<std::int64_t>(value))
                             : put(static_cast<double>(value));
    }
    bool number_float(number_float_t value, const string_t& /*text*/) override {
        return put(value);
    }
    bool string(string_t& value) override { return put(std::move(value)); }
    bool binary(binary_t& /*value*/) override { return false; }
    bool key(string_t& name) override {
        key_ = std::move(name);
        if (open_.back()->as_table()->contains(key_))
            return refuse(fmt::format("\"{}\" stands a second time", key_),
                          "accepted: each key once in its object");
        return true;
    }

    bool start_object(std::size_t /*size*/) override {
        if (open_.empty()) {
            open_.push_back(&root_);
            return true;
        }
        return enter(toml::table{});
    }
    bool start_array(std::size_t /*size*/) override {
        if (open_.empty()) return no_object();
        return enter(toml::array{});
    }
    bool end_object() override { return leave(); }
    bool end_array() override { return leave(); }

    bool parse_error(std::size_t position, const std::string& /*token*/,
                     const nlohmann::detail::exception& error) override {
        // "[...] parse error at line 1, column 9: syntax error while parsing value - invalid ..."
        std::string_view text = error.what();
        if (const auto at = text.find("column "); at != std::string_view::npos)
            if (const auto colon = text.find(": ", at); colon != std::string_view::npos)
                text.remove_prefix(colon + 2);
        position_ = position;
        return refuse(fmt::format("not JSON: {}", text), accepted_line);
    }

private:
    template <class Value>
    bool put(Value&& value) {
        if (open_.empty()) return no_object();
        if (toml::array* list = open_.back()->as_array())
            list->push_back(std::forward<Value>(value));
        else
            open_.back()->as_table()->insert(key_, std::forward<Value>(value));
        return true;
    }

    template <class Container>
    bool enter(Container&& empty) {
        if (open_.size() == deepest_level)
            return refuse("the line is nested too deeply",
                          fmt::format("accepted: up to {} levels", deepest_level));
        if (toml::array* list = open_.back()->as_array()) {
            list->push_back(std::forward<Container>(empty));
            open_.push_back(&list->back());
        } else {
            toml::table& table = *open_.back()->as_table();
            open_.push_back(&table.insert(key_, std::forward<Container>(empty)).first->second);
        }
        return true;
    }

    bool leave() {
        open_.pop_back();
        return true;
    }

    bool no_object() { return refuse("the line is no JSON object", accepted_line); }

    bool refuse(std::string fault, std::string advice) {
        fault_ = std::move(fault);
        advice_ = std::move(advice);
        return false;
    }

    toml::table& root_;
    std::vector<toml::node*> open_;
    std::string key_, fault_, advice_;
    std::size_t position_ = 0;
};

/// Counts through a tree until a node, or until a number, is found; remembers the way there.
class Walk {
public:
    Walk(const toml::node* wanted, int number) : wanted_{wanted}, number_{number} {}

    bool search(const toml::node& node) {
        if (&node == wanted_ || count_ == number_) return true;
        if (const toml::table* table = node.as_table()) {
            for (const auto& [key, inside] : *table) {
                const auto step = fmt::format("{}{}", path_.empty() ? "" : ".", key.str());
                if (search_inside(inside, step)) return true;
            }
        } else if (const toml::array* list = node.as_array()) {
            for (std::size_t i = 0; i < list->size(); ++i)
                if (search_inside(*list->get(i), fmt::format("[{}]", i))) return true;
        }
        return false;
    }

    [[nodiscard]] int count() const noexcept { return count_; }
    [[nodiscard]] const std::string& path() const noexcept { return path_; }

private:
    bool search_inside(const toml::node& node, const std::string& step) {
        ++count_;
        const std::size_t before = path_.size();
        path_ += step;
        if (search(node)) return true;
        path_.resize(before);
        return false;
    }

    const toml::node* wanted_;
    int number_, count_ = 0;
    std::string path_;
};

std::string json_text(const toml::node& node) {
    if (node.is_table()) return "{...}";
    if (const toml::array* list = node.as_array()) {
        std::string out;
        for (const toml::node& entry : *list)
            out += fmt::format("{}{}", out.empty() ? "" : ", ", json_text(entry));
        return fmt::format("[{}]", out);
    }
    if (const auto text = node.value_exact<std::string>())
        return nlohmann::json(*text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
    if (const auto whole = node.value_exact<std::int64_t>()) return fmt::format("{}", *whole);
    if (const auto number = node.value_exact<double>()) return nlohmann::json(*number).dump();
    return node.value_exact<bool>().value_or(false) ? "true" : "false";
}

}  // namespace

std::optional<Problem> JsonSource::parse(std::string_view line) {
    tree_.clear();
    TreeBuilder builder{tree_};
    if (nlohmann::json::sax_parse(line.begin(), line.end(), &builder)) return std::nullopt;
    const std::string at =
        builder.position() > 0 ? fmt::format("{}, column {}", name_, builder.position()) : name_;
    return Problem{at, 0, 0, builder.fault(), builder.advice(), {}};
}

TextPlace JsonSource::place(const toml::node& node) const {
    Walk walk{&node, -1};
    return {1, walk.search(tree_) ? walk.count() : 0};
}

TextPlace JsonSource::place(const toml::key& /*key*/, const toml::node& node) const {
    return place(node);
}

std::string JsonSource::written(const toml::node& node) const {
    constexpr std::size_t longest = 48;
    const std::string text = json_text(node);
    const auto characters = words::utf8_characters(text);
    if (characters.size() <= longest) return text;
    std::string out;
    for (std::size_t i = 0; i < longest; ++i)
        out += characters[i];
    return out + "...";
}

Problem JsonSource::problem(TextPlace at, std::string found, std::string accepted) const {
    Walk walk{nullptr, at.column};
    const bool inside = walk.search(tree_) && !walk.path().empty();
    // No line of its own: the name says which, and problems keep the order in which they were
    // found.
    return {inside ? fmt::format("{}, {}", name_, walk.path()) : name_,
            0,
            0,
            std::move(found),
            std::move(accepted),
            {}};
}

}  // namespace keyhour::read
