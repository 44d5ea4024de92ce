#include "replaced_text.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <filesystem>
#include <ostream>

#include "atomic_file.hpp"
#include "file_contents.hpp"
#include "output_place.hpp"
#include "part_files.hpp"

namespace keyhour::file {

namespace fs = std::filesystem;

tl::expected<void, std::string> may_replace(const std::string& path) {
    const auto refused = [&](const std::string& why) {
        return tl::unexpected{fmt::format("{}: not changed: {}", path, why)};
    };
    std::error_code error;
    const fs::file_status status = fs::status(path, error);
    if (!fs::is_regular_file(status)) return refused("it is no plain file");
    const bool may_write =
        (status.permissions() & (fs::perms::owner_write | fs::perms::group_write |
                                 fs::perms::others_write)) != fs::perms::none;
    // A rename would pass over a file's own protection.
    if (!may_write || ::access(path.c_str(), W_OK) != 0) return refused("it is read-only");
    const auto place = output_place(path);
    if (!place) return tl::unexpected{place.error()};
    if (::access(folder_of(place->target).c_str(), W_OK | X_OK) != 0)
        return refused("its folder may not be written to");
    return {};
}

tl::expected<void, std::string> replace_text(const std::string& path, std::string_view before,
                                             std::string_view after) {
    if (auto may = may_replace(path); !may) return may;
    auto out = AtomicFile::create(path, AtomicFile::Existing::replace, AtomicFile::Flush::to_disk);
    if (!out) return tl::unexpected{out.error()};
    out->stream() << after;
    if (auto closed = out->close(); !closed) return closed;
    const auto now = file_contents(path, before.size(), "a file", "", Taken::plain_file);
    if (!now || *now != before)
        return tl::unexpected{path + ": not changed: it was changed meanwhile"};
    return out->commit();
}

}  // namespace keyhour::file
