#include "part_files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>

#include <cerrno>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <map>
#include <mutex>
#include <random>
#include <string_view>

#include "run_file.hpp"

namespace keyhour::file {

namespace fs = std::filesystem;

namespace {

constexpr std::string_view mark = ".keyhour-", extension = ".part";
constexpr std::size_t drawn_digits = 8, check_digits = 8;
constexpr std::size_t added = mark.size() + drawn_digits + check_digits + extension.size();
constexpr std::size_t longest_name = 255;

std::string part_name(const std::string& name, std::string_view drawn) {
    const std::uint64_t check = digest(drawn, digest(name));
    return fmt::format("{}{}{}{:08x}{}", name, mark, drawn, check & 0xffffffffU, extension);
}

void delete_stale(const std::string& folder) {
    std::error_code error;
    for (fs::directory_iterator at{folder, error}; !error && at != fs::directory_iterator{};
         at.increment(error)) {
        if (!is_part_name(at->path().filename().string())) continue;
        struct stat status {};
        if (::lstat(at->path().c_str(), &status) == 0 && S_ISREG(status.st_mode) &&
            status.st_uid == ::geteuid())
            ::unlink(at->path().c_str());
    }
}

}  // namespace

bool is_part_name(const std::string& name) {
    if (name.size() <= added) return false;
    const std::string before = name.substr(0, name.size() - added);
    return name == part_name(before, std::string_view{name}.substr(before.size() + mark.size(),
                                                                   drawn_digits));
}

PartFolder::PartFolder(const std::string& folder)
    : folder_{::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)} {
    // Without the lock (some network file systems have none) nothing is proven, and all is left.
    if (!folder_.is_open()) return;
    if (::flock(folder_.get(), LOCK_EX | LOCK_NB) == 0) delete_stale(folder);
    static_cast<void>(lock(folder_.get(), LOCK_SH));
}

std::string folder_of(const std::string& target) {
    const std::string folder = fs::path{target}.parent_path().string();
    return folder.empty() ? "." : folder;
}

std::shared_ptr<const PartFolder> PartFolder::of(const std::string& target) {
    const std::string folder = folder_of(target);
    static std::mutex mutex;
    static std::map<std::string, std::weak_ptr<const PartFolder>> entered;
    const std::lock_guard held{mutex};
    auto& one = entered[folder];
    auto here = one.lock();
    if (!here) {
        here = std::make_shared<const PartFolder>(folder);
        one = here;
    }
    return here;
}

tl::expected<Part, std::string> make_part(const std::string& target) {
    constexpr int most_tries = 100;
    static std::random_device random;
    const fs::path path{target};
    const std::string name = path.filename().string().substr(0, longest_name - added);
    for (int i = 0; i < most_tries; ++i) {
        const fs::path part = path.parent_path() / part_name(name, fmt::format("{:08x}", random()));
        Descriptor file{::open(part.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666)};
        if (file.is_open()) return Part{part.string(), std::move(file)};
        if (errno != EEXIST) return tl::unexpected{std::string{std::strerror(errno)}};
    }
    return tl::unexpected{std::string{"too many unfinished files beside it"}};
}

}  // namespace keyhour::file
