#include "file_contents.hpp"

#include <filesystem>

#include "disk_contents.hpp"
#include "held_files.hpp"

namespace keyhour::file {

tl::expected<std::string, Problem> file_contents(const std::string& path, std::size_t most_bytes,
                                                 const std::string& what,
                                                 const std::string& accepted, Taken taken) {
    if (const HeldFiles* held = HeldFiles::now())
        return held->contents(path, most_bytes, what, accepted);
    return disk_contents(path, most_bytes, what, accepted, taken);
}

std::string path_beside(const std::string& folder, const std::string& path) {
    return (std::filesystem::path{folder} / path).lexically_normal().string();
}

}  // namespace keyhour::file
