#pragma once
/// @file
/// The text of a file by lines, for showing where a problem is.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "problem.hpp"
#include "source.hpp"

namespace keyhour::read {

class SourceText final : public Source {
public:
    SourceText(std::string_view text, std::string name);

    [[nodiscard]] TextPlace place(const toml::node& node) const override;
    [[nodiscard]] TextPlace place(const toml::key& key, const toml::node& node) const override;
    [[nodiscard]] std::string written(const toml::node& node) const override;
    [[nodiscard]] const char* whole() const override { return "the file"; }
    [[nodiscard]] Problem problem(TextPlace at, std::string found,
                                  std::string accepted) const override;

    [[nodiscard]] const std::string& name() const noexcept { return name_; }
    /// Line `number` from 1, without its end; empty beyond the last.
    [[nodiscard]] std::string_view line(int number) const noexcept;
    [[nodiscard]] int line_count() const noexcept { return static_cast<int>(lines_.size()); }
    /// What stands between two places of one line, shortened if long; empty if on several lines.
    [[nodiscard]] std::string between(TextPlace from, TextPlace to) const;
    /// The first byte that is no UTF-8, as a problem.
    [[nodiscard]] std::optional<Problem> not_utf8() const;
    /// What can be said before parsing: characters that may stand only in quotes, quotes and
    /// brackets that are not closed. At most one a line.
    [[nodiscard]] std::vector<Problem> lexical_problems() const;
    /// The lines of the statement that holds line `number`: first and last, from 1.
    struct Lines {
        int first = 0, last = 0;
    };
    [[nodiscard]] Lines statement(int number) const;
    /// Puts blanks in place of lines, so that the rest can still be read.
    void blank(Lines lines);
    /// The text as it stands after blank().
    [[nodiscard]] std::string text() const;

private:
    std::string name_, text_;
    std::vector<std::string_view> lines_;  // into text_
    std::vector<bool> blanked_;
};

}  // namespace keyhour::read
