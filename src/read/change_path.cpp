#include "change_path.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "nearest.hpp"

namespace keyhour::read {
namespace {

constexpr const char* form =
    "accepted: TABLE.NAME.KEY=VALUE, as in \"window.north.cover=blackout\"";

/// Tables that a file may leave out.
constexpr std::string_view made_where_missing[] = {"lock", "rigging", "site", "room", "shoot"};

/// The next word of the path: in quotes, or up to a point.
std::string take_word(std::string_view& rest) {
    std::size_t end = 0, from = 0, length = 0;
    const bool quoted = rest.starts_with('"') && rest.find('"', 1) != std::string_view::npos;
    if (quoted) {
        from = 1;
        length = rest.find('"', 1) - 1;
        end = length + 2;
    } else {
        end = length = std::min(rest.find('.'), rest.size());
    }
    std::string word{rest.substr(from, length)};
    rest.remove_prefix(std::min(end, rest.size()));
    if (rest.starts_with('.')) rest.remove_prefix(1);
    return word;
}

std::vector<std::string> names_in(const toml::array& list) {
    std::vector<std::string> out;
    for (const toml::node& entry : list)
        if (const toml::table* table = entry.as_table())
            if (std::string name = name_of(*table); !name.empty()) out.push_back(std::move(name));
    return out;
}

/// The entry whose name stands at the path's beginning; the longest of them. Takes it off the path.
toml::table* take_entry(toml::array& list, std::string_view& rest) {
    toml::table* best = nullptr;
    std::size_t longest = 0;
    std::string_view best_rest;
    for (toml::node& entry : list) {
        toml::table* table = entry.as_table();
        if (!table) continue;
        const std::string name = name_of(*table);
        if (name.empty() || name.size() < longest) continue;
        const std::string_view behind = behind_name(rest, name);
        if (behind.empty()) continue;
        best = table;
        longest = name.size();
        best_rest = behind;
    }
    if (best) rest = best_rest;
    return best;
}

std::vector<std::string> words_of(const toml::table& tree) {
    std::vector<std::string> out;
    for (const auto& [key, node] : tree) {
        out.emplace_back(key.str());
        if (node.is_array_of_tables())
            for (std::string& name : names_in(*node.as_array()))
                out.push_back(std::move(name));
    }
    return out;
}

class PathWalk {
public:
    PathWalk(toml::table& tree, std::string_view path) : here_{&tree}, rest_{path} {}

    tl::expected<ChangePlace, ChangeFault> walk() {
        if (auto fault = begin_with_name()) return tl::unexpected{*std::move(fault)};
        while (true) {
            const std::string word = take_word(rest_);
            if (word.empty()) return fault("a word of the path is empty", form);
            toml::node* node = here_->get(word);
            if (!node) return missing(word);
            if (node->is_array_of_tables()) {
                if (auto wrong = enter(word, *node->as_array()))
                    return tl::unexpected{*std::move(wrong)};
            } else if (rest_.empty()) {
                return ChangePlace{here_, word, {}};
            } else if (toml::table* table = node->as_table()) {
                here_ = table;
            } else {
                return fault(fmt::format("\"{}\" holds a value: it has no \"{}\"", word, rest_),
                             fmt::format("accepted: ...{}=VALUE", word));
            }
            top_ = false;
        }
    }

private:
    static tl::unexpected<ChangeFault> fault(std::string found, std::string accepted) {
        return tl::unexpected{ChangeFault{std::move(found), std::move(accepted)}};
    }

    /// Where the path begins with a name in place of its table.
    std::optional<ChangeFault> begin_with_name() {
        std::string_view look = rest_;
        if (here_->contains(take_word(look))) return std::nullopt;
        toml::table* entry = nullptr;
        std::string_view behind;
        std::vector<std::string> tables;
        for (auto&& [key, node] : *here_) {
            if (!node.is_array_of_tables()) continue;
            std::string_view tried = rest_;
            toml::table* found = take_entry(*node.as_array(), tried);
            if (!found) continue;
            if (!entry || tried.size() <= behind.size()) {
                entry = found;
                behind = tried;
            }
            tables.emplace_back(fmt::format("{}.{}", key.str(), rest_));
        }
        if (tables.size() > 1)
            return ChangeFault{fmt::format("\"{}\" names more than one thing", rest_),
                               fmt::format("accepted: {}", quoted_list(tables))};
        if (!entry) return std::nullopt;
        here_ = entry;
        rest_ = behind;
        top_ = false;
        return std::nullopt;
    }

    std::optional<ChangeFault> enter(const std::string& word, toml::array& list) {
        toml::table* entry = take_entry(list, rest_);
        if (entry) {
            here_ = entry;
            return std::nullopt;
        }
        const auto names = names_in(list);
        if (rest_.empty())
            return ChangeFault{fmt::format("[[{}]] stands for many", word),
                               fmt::format("accepted: {}.NAME.KEY=VALUE, with the name {}", word,
                                           quoted_list(names))};
        std::string_view look = rest_;
        const std::string name = take_word(look);
        if (look.empty() && std::ranges::find(names, name) != names.end())
            return ChangeFault{fmt::format("\"{}.{}\" says no key", word, name),
                               fmt::format("accepted: {}.{}.KEY=VALUE", word, name)};
        return ChangeFault{fmt::format("there is no {} \"{}\"", word, name),
                           suggestion(name, names)};
    }

    tl::expected<ChangePlace, ChangeFault> missing(const std::string& word) {
        if (top_ && (rest_.empty() ||
                     std::ranges::find(made_where_missing, word) == std::end(made_where_missing)))
            return fault(fmt::format("the file has no \"{}\"", word),
                         suggestion(word, words_of(*here_)));
        ChangePlace place{here_, word, {}};
        while (!rest_.empty())
            place.below.push_back(take_word(rest_));
        return place;
    }

    toml::table* here_;
    std::string_view rest_;
    bool top_ = true;
};

}  // namespace

std::string name_of(const toml::table& table) {
    if (const auto name = table["name"].value<std::string>()) return *name;
    const auto from = table["from"].value<std::string>(), to = table["to"].value<std::string>();
    return from && to ? *from + " to " + *to : std::string{};
}

std::string_view behind_name(std::string_view path, std::string_view name) {
    if (path.starts_with('"')) {
        path.remove_prefix(1);
        if (!path.starts_with(name) || !path.substr(name.size()).starts_with("\".")) return {};
        return path.substr(name.size() + 2);
    }
    if (!path.starts_with(name) || !path.substr(name.size()).starts_with('.')) return {};
    return path.substr(name.size() + 1);
}

tl::expected<ChangePlace, ChangeFault> find_change(toml::table& tree, std::string_view path) {
    if (path == "bearing" && !tree.contains(path)) path = "room.bearing.faces";
    return PathWalk{tree, path}.walk();
}

}  // namespace keyhour::read
