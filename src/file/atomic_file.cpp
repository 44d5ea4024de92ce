#include "atomic_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>

namespace keyhour::file {

namespace fs = std::filesystem;

struct AtomicFile::State {
    std::string shown;  ///< the path as the user named it
    fs::path target, beside;
    Existing existing = Existing::replace;
    std::ofstream out;

    State() = default;
    State(const State&) = delete;
    State& operator=(const State&) = delete;
    ~State() {
        if (beside.empty()) return;
        out.close();
        std::error_code ignored;
        fs::remove(beside, ignored);
    }
};

namespace {

std::string cannot(const std::string& path, const std::string& reason) {
    return fmt::format("{}: cannot be written: {}", path, reason);
}

std::string taken(const std::string& path) {
    return fmt::format("{}: exists already; --force overwrites it", path);
}

/// Makes a new empty file beside the target, with the permissions of any new file.
tl::expected<fs::path, std::string> make_beside(const fs::path& target) {
    constexpr int most_tries = 100;
    for (int i = 0; i < most_tries; ++i) {
        fs::path beside = target;
        beside += fmt::format(".{}-{}.part", ::getpid(), i);
        const int handle = ::open(beside.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666);
        if (handle >= 0) {
            ::close(handle);
            return beside;
        }
        if (errno != EEXIST) return tl::unexpected{std::string{std::strerror(errno)}};
    }
    return tl::unexpected{std::string{"too many unfinished files beside it"}};
}

}  // namespace

AtomicFile::AtomicFile(std::unique_ptr<State> state) : state_{std::move(state)} {}
AtomicFile::AtomicFile(AtomicFile&&) noexcept = default;
AtomicFile& AtomicFile::operator=(AtomicFile&&) noexcept = default;
AtomicFile::~AtomicFile() = default;

tl::expected<AtomicFile, std::string> AtomicFile::create(const std::string& path,
                                                         Existing existing) {
    auto state = std::make_unique<State>();
    state->shown = path;
    state->existing = existing;
    std::error_code error;
    const fs::file_status status = fs::status(path, error);
    if (fs::is_directory(status)) return tl::unexpected{cannot(path, "it is a folder")};
    const bool exists = fs::exists(status);
    const bool special = exists && !fs::is_regular_file(status);
    if (exists && !special && existing == Existing::refuse) return tl::unexpected{taken(path)};
    if (special) {
        state->out.open(path, std::ios::binary);
    } else {
        // Behind a symbolic link the file that it names is replaced, not the link.
        state->target = exists ? fs::canonical(path, error) : fs::path{path};
        auto beside = make_beside(state->target);
        if (!beside) return tl::unexpected{cannot(path, beside.error())};
        state->beside = *std::move(beside);
        if (exists) fs::permissions(state->beside, status.permissions(), error);
        state->out.open(state->beside, std::ios::binary);
    }
    if (!state->out) return tl::unexpected{cannot(path, std::strerror(errno))};
    return AtomicFile{std::move(state)};
}

std::ostream& AtomicFile::stream() {
    return state_->out;
}

tl::expected<void, std::string> AtomicFile::close() {
    State& s = *state_;
    if (!s.out.is_open()) return {};
    if (s.out) errno = 0;  // else it tells why the writing failed
    s.out.close();
    if (s.out) return {};
    return tl::unexpected{
        cannot(s.shown, errno != 0 ? std::strerror(errno) : "writing failed half-way")};
}

tl::expected<void, std::string> AtomicFile::commit() {
    State& s = *state_;
    if (const auto closed = close(); !closed) return closed;
    if (s.beside.empty()) return {};
    std::error_code error;
    if (s.existing == Existing::refuse) {
        // A hard link fails where the name has been taken meanwhile; a rename would replace it.
        fs::create_hard_link(s.beside, s.target, error);
        if (!error) return {};
        if (fs::exists(s.target)) return tl::unexpected{taken(s.shown)};
    }
    error.clear();
    fs::rename(s.beside, s.target, error);
    if (error) return tl::unexpected{cannot(s.shown, error.message())};
    s.beside.clear();
    return {};
}

}  // namespace keyhour::file
