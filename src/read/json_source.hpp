#pragma once
/// @file
/// A location as one line of JSON: read into the same tree as a TOML file, so that one reader
/// checks both.

#include <optional>
#include <string_view>

#include "source.hpp"

namespace keyhour::read {

class JsonSource final : public Source {
public:
    /// @param name  how problems call the line
    explicit JsonSource(std::string name) : name_{std::move(name)} {}

    /// @return nothing, and the object's members in tree(); or why the line is no JSON object that
    ///         can be read: a syntax error, a null, a member that stands twice, deep nesting
    [[nodiscard]] std::optional<Problem> parse(std::string_view line);
    [[nodiscard]] const toml::table& tree() const noexcept { return tree_; }
    [[nodiscard]] toml::table& tree() noexcept { return tree_; }

    [[nodiscard]] TextPlace place(const toml::node& node) const override;
    [[nodiscard]] TextPlace place(const toml::key& key, const toml::node& node) const override;
    [[nodiscard]] std::string written(const toml::node& node) const override;
    [[nodiscard]] const char* whole() const override { return "the line"; }
    [[nodiscard]] Problem problem(TextPlace at, std::string found,
                                  std::string accepted) const override;

private:
    std::string name_;
    toml::table tree_;
};

}  // namespace keyhour::read
