#include "atomic_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>

#include "descriptor.hpp"
#include "output.hpp"
#include "output_place.hpp"
#include "part_files.hpp"

namespace keyhour::file {

namespace fs = std::filesystem;

struct AtomicFile::State {
    std::string shown;  ///< the path as the user named it
    OutputPlace place;
    std::shared_ptr<const PartFolder> folder;
    std::string beside;  ///< the unfinished file; empty for a stream, and when all is done
    Existing existing = Existing::replace;
    Flush flush = Flush::by_system;
    Descriptor file;
    std::unique_ptr<Output> buffer;
    std::ostream out{nullptr};

    State() = default;
    State(const State&) = delete;
    State& operator=(const State&) = delete;
    ~State() {
        if (!beside.empty()) ::unlink(beside.c_str());
    }
};

namespace {

std::string taken(const std::string& path) {
    return fmt::format("{}: exists already; --force overwrites it", path);
}

/// The new file belongs to whom the old one belonged to, and may be read by the same.
void take_over(const std::string& old, int file) {
    struct stat status {};
    if (::stat(old.c_str(), &status) != 0) return;
    if (::fchown(file, status.st_uid, status.st_gid) != 0) {
        // Only root may give a file away: it is the writer's then.
    }
    static_cast<void>(::fchmod(file, status.st_mode & 07777U));
}

}  // namespace

AtomicFile::AtomicFile(std::unique_ptr<State> state) : state_{std::move(state)} {}
AtomicFile::AtomicFile(AtomicFile&&) noexcept = default;
AtomicFile& AtomicFile::operator=(AtomicFile&&) noexcept = default;
AtomicFile::~AtomicFile() = default;

tl::expected<AtomicFile, std::string> AtomicFile::create(const std::string& path, Existing existing,
                                                         Flush flush) {
    auto place = output_place(path);
    if (!place) return tl::unexpected{std::move(place.error())};
    auto state = std::make_unique<State>();
    state->shown = path;
    state->place = *std::move(place);
    state->existing = existing;
    state->flush = flush;
    const OutputPlace& p = state->place;
    if (p.kind == OutputPlace::Kind::plain && existing == Existing::refuse)
        return tl::unexpected{taken(path)};
    if (p.kind == OutputPlace::Kind::stream) {
        state->file = p.open_stream();
        if (!state->file.is_open())
            return tl::unexpected{cannot_be_written(path, std::strerror(errno))};
    } else {
        state->folder = PartFolder::of(p.target);
        auto part = make_part(p.target);
        if (!part) return tl::unexpected{cannot_be_written(path, part.error())};
        state->beside = std::move(part->path);
        state->file = std::move(part->file);
        if (p.kind == OutputPlace::Kind::plain) take_over(p.target, state->file.get());
    }
    state->buffer = std::make_unique<Output>(state->file.get());
    state->out.rdbuf(state->buffer.get());
    return AtomicFile{std::move(state)};
}

std::ostream& AtomicFile::stream() {
    return state_->out;
}

tl::expected<void, std::string> AtomicFile::close() {
    State& s = *state_;
    if (!s.buffer) return {};
    int error = s.buffer->finish();
    if (error == 0 && s.flush == Flush::to_disk && !s.beside.empty() && ::fsync(s.file.get()) != 0)
        error = errno;
    s.out.rdbuf(nullptr);
    s.buffer.reset();
    { const Descriptor closed = std::move(s.file); }
    if (error == 0) return {};
    return tl::unexpected{cannot_be_written(s.shown, std::strerror(error))};
}

tl::expected<void, std::string> AtomicFile::commit() {
    State& s = *state_;
    if (const auto closed = close(); !closed) return closed;
    if (s.beside.empty()) return {};
    const std::string& target = s.place.target;
    if (s.existing == Existing::refuse) {
        // A hard link fails where the name has been taken meanwhile; a rename would replace it.
        std::error_code error;
        fs::create_hard_link(s.beside, target, error);
        if (!error) return {};
        if (fs::exists(target, error)) return tl::unexpected{taken(s.shown)};
    }
    if (std::rename(s.beside.c_str(), target.c_str()) != 0)
        return tl::unexpected{cannot_be_written(s.shown, std::strerror(errno))};
    s.beside.clear();
    if (s.flush == Flush::to_disk)
        if (const int error = flush_folder(folder_of(target)); error != 0)
            return tl::unexpected{cannot_be_written(s.shown, std::strerror(error))};
    return {};
}

}  // namespace keyhour::file
