#pragma once
/// @file
/// What if: changes to the values of a file, which stays as it is. They are laid over the parsed
/// tree, so that one reader checks what stands in the file and what is only asked about.

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "source_text.hpp"

namespace keyhour::read {

/// One change as typed: "window.yard light.cover=blackout", "mark.chair.at=2.1,3.4",
/// "bearing+=-3". The path goes by the file's own names: a table, of one that stands for many its
/// name, then the key; the table may be left out where the name is the only one. "+=" adds to the
/// number, length or point that the file gives.
struct Change {
    std::string text;
    std::string within{};  ///< what leads to the file that is changed: "place.bindery."

    /// How problems call it: "--if bearing+=-3".
    [[nodiscard]] std::string label() const;
};

using Changes = std::vector<Change>;

/// "bearing+=-3, mark.chair.at=2.1,3.4": as a title names what was asked.
[[nodiscard]] std::string what_if(const Changes& changes);

/// `name` with the changes behind it; as it is if there are none.
[[nodiscard]] std::string changed_name(const std::string& name, const Changes& changes);

/// A file's source with the changes laid over its tree: what comes from a change is shown as that.
class ChangedSource final : public Source {
public:
    explicit ChangedSource(const Source& file) : file_{file} {}

    /// @return why the change can't be made, or nothing, and `tree` has it
    [[nodiscard]] std::optional<Problem> apply(const Change& change, toml::table& tree);

    [[nodiscard]] TextPlace place(const toml::node& node) const override;
    [[nodiscard]] TextPlace place(const toml::key& key, const toml::node& node) const override;
    [[nodiscard]] std::string written(const toml::node& node) const override;
    [[nodiscard]] const char* whole() const override { return file_.whole(); }
    [[nodiscard]] Problem problem(TextPlace at, std::string found,
                                  std::string accepted) const override;

private:
    struct Made {
        std::string label;
        std::unique_ptr<SourceText> text;  ///< "v = VALUE", of which the nodes were made
    };
    /// The change that the node comes from; null if it stands in the file.
    [[nodiscard]] const Made* made_by(const toml::node& node, int& number) const;

    const Source& file_;
    std::vector<Made> made_;
};

/// After the problems of a changed file: that it was read with the changes, as one of the file's
/// own lines may be blamed for them. Nothing without problems or changes.
void add_that_it_is_changed(std::vector<Problem>& problems, const Changes& changes);

}  // namespace keyhour::read
