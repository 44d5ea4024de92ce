#pragma once
/// @file
/// Unfinished files: they lie beside the output that they become, and go with the run that makes
/// them, or with the next one if that was killed.

#include <memory>
#include <string>
#include <tl/expected.hpp>

#include "descriptor.hpp"

namespace keyhour::file {

/// A folder in which this process has unfinished files. While it lives it holds a shared lock
/// (flock) on the folder. Who comes first takes it alone for a moment: then nobody has unfinished
/// files there, and those that lie there under a name that only keyhour gives are deleted.
class PartFolder {
public:
    /// @return the folder in which `target` lies, the same for all who ask while one of them keeps
    /// it
    [[nodiscard]] static std::shared_ptr<const PartFolder> of(const std::string& target);

    explicit PartFolder(const std::string& folder);

private:
    Descriptor folder_;
};

struct Part {
    std::string path;
    Descriptor file;
};

/// Makes a new empty file beside `target`, NAME.keyhour-XXXXXXXXXXXXXXXX.part, with the permissions
/// of any new file. Eight of the digits are drawn, eight follow from them and the name.
/// @return or why it cannot be made
[[nodiscard]] tl::expected<Part, std::string> make_part(const std::string& target);

/// The folder of a file; "." where the path names none.
[[nodiscard]] std::string folder_of(const std::string& target);

/// Is this a name that make_part() gives?
[[nodiscard]] bool is_part_name(const std::string& name);

}  // namespace keyhour::file
