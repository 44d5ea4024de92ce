#pragma once
/// @file
/// NAME=VALUE pairs typed as one flag, read into the same tree as a TOML table.

#include <optional>
#include <string>
#include <string_view>

#include "source.hpp"

namespace keyhour::read {

class FlagSource final : public Source {
public:
    /// @param name  how problems call the flag: "--shadow"
    explicit FlagSource(std::string name) : name_{std::move(name)} {}

    /// @param names  the names that are known
    /// @return why the text is no list of pairs, or nothing, and the pairs in tree(): "x,y" as a
    ///         pair, what reads as a number as one, all else as text
    [[nodiscard]] std::optional<Problem> parse(std::string_view text,
                                               const std::vector<std::string>& names);
    [[nodiscard]] toml::table& tree() noexcept { return tree_; }

    [[nodiscard]] TextPlace place(const toml::node&) const override { return {0, 1}; }
    [[nodiscard]] TextPlace place(const toml::key&, const toml::node&) const override {
        return {0, 1};
    }
    [[nodiscard]] std::string written(const toml::node& node) const override;
    [[nodiscard]] const char* whole() const override { return "the flag"; }
    [[nodiscard]] Problem problem(TextPlace at, std::string found,
                                  std::string accepted) const override;

private:
    std::string name_;
    toml::table tree_;
};

}  // namespace keyhour::read
