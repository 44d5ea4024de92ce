#include "run_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <cstdio>
#include <cstring>
#include <optional>
#include <sstream>
#include <utility>

namespace keyhour::file {

namespace {

constexpr std::size_t most_held = std::size_t{256} << 10U;
constexpr std::chrono::milliseconds longest_held{20};
constexpr const char* first_word = "keyhour-batch-run-1";

class Descriptor {
public:
    Descriptor() = default;
    explicit Descriptor(int number) : number_{number} {}
    Descriptor(Descriptor&& other) noexcept : number_{std::exchange(other.number_, -1)} {}
    Descriptor& operator=(Descriptor&& other) noexcept {
        std::swap(number_, other.number_);
        return *this;
    }
    ~Descriptor() {
        if (number_ >= 0) ::close(number_);
    }
    [[nodiscard]] int get() const noexcept { return number_; }
    [[nodiscard]] bool is_open() const noexcept { return number_ >= 0; }

private:
    int number_ = -1;
};

/// @return 0 or errno
int write_all(int descriptor, std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = ::write(descriptor, text.data(), text.size());
        if (written >= 0)
            text.remove_prefix(static_cast<std::size_t>(written));
        else if (errno != EINTR)
            return errno;
    }
    return 0;
}

std::string read_all(int descriptor) {
    std::string text;
    std::array<char, 16384> piece{};
    ::lseek(descriptor, 0, SEEK_SET);
    for (ssize_t n = 0; (n = ::read(descriptor, piece.data(), piece.size())) > 0;)
        text.append(piece.data(), static_cast<std::size_t>(n));
    return text;
}

std::string record_of(const RunProgress& p) {
    const std::string text =
        fmt::format("{} {} {} {} {:016x}", p.inputs, p.bytes, p.lines, p.refused, p.digest);
    return fmt::format("{} {:08x}\n", text, digest(text) & 0xffffffffU);
}

/// Nothing if the line is torn.
std::optional<RunProgress> read_record(const std::string& line) {
    RunProgress p;
    std::istringstream in{line};
    in >> p.inputs >> p.bytes >> p.lines >> p.refused >> std::hex >> p.digest;
    if (!in || record_of(p) != line + '\n') return std::nullopt;
    return p;
}

std::string head_of(std::uint64_t settings) {
    return fmt::format("{} {:016x}\n", first_word, settings);
}

std::string fault(const std::string& path, const char* what, int error) {
    return fmt::format("{}: {}: {}", path, what, std::strerror(error));
}

bool is_regular(const std::string& path) {
    struct stat status {};
    return ::stat(path.c_str(), &status) != 0 || S_ISREG(status.st_mode);
}

}  // namespace

std::uint64_t digest(std::string_view bytes, std::uint64_t before) noexcept {
    for (const char c : bytes) {
        before ^= static_cast<unsigned char>(c);
        before *= 1099511628211ULL;
    }
    return before;
}

struct RunFile::State {
    std::string path, note_path;
    Descriptor out, note;
    RunProgress kept, ahead;
    std::string held;
    std::chrono::steady_clock::time_point since = std::chrono::steady_clock::now();
    int error = 0;
    bool was_finished = false;

    /// Finds the last record whose output is there.
    /// @return bytes of the note up to its end
    std::size_t read_note(const std::string& note_text, std::uint64_t size) {
        std::size_t good = std::min(note_text.find('\n'), note_text.size() - 1) + 1;  // the head
        while (true) {
            const std::size_t end = note_text.find('\n', good);
            if (end == std::string::npos) return good;
            const auto record = read_record(note_text.substr(good, end - good));
            if (!record || record->bytes > size) return good;
            kept = *record;
            good = end + 1;
        }
    }
};

RunFile::RunFile(std::unique_ptr<State> state) : state_{std::move(state)} {}
RunFile::RunFile(RunFile&&) noexcept = default;
RunFile& RunFile::operator=(RunFile&&) noexcept = default;

RunFile::~RunFile() {
    if (state_) static_cast<void>(write_out());
}

tl::expected<RunFile, std::string> RunFile::open(const std::string& path, Start start,
                                                 std::uint64_t settings) {
    auto state = std::make_unique<State>();
    state->path = path;
    state->note_path = path + ".resume";
    const bool regular = is_regular(path);
    const bool is_there = ::access(path.c_str(), F_OK) == 0;
    const bool was_run = ::access(state->note_path.c_str(), F_OK) == 0;
    if (start == Start::fresh && was_run)
        return tl::unexpected{fmt::format(
            "{0} is the output of an interrupted run; --resume goes on with it, or delete {0} and "
            "{0}.resume first",
            path)};
    if (start == Start::go_on && is_there && !was_run && regular) {
        state->was_finished = true;
        return RunFile{std::move(state)};
    }
    if (regular) {
        state->note =
            Descriptor{::open(state->note_path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666)};
        if (!state->note.is_open())
            return tl::unexpected{fault(state->note_path, "cannot be written", errno)};
        if (::flock(state->note.get(), LOCK_EX | LOCK_NB) != 0)
            return tl::unexpected{path + ": another run is writing it"};
    }
    state->out = Descriptor{::open(path.c_str(), O_WRONLY | O_CREAT | O_CLOEXEC, 0666)};
    if (!state->out.is_open()) {
        const int error = errno;
        if (regular && !was_run) ::unlink(state->note_path.c_str());
        return tl::unexpected{fault(path, "cannot be written", error)};
    }
    if (!regular) return RunFile{std::move(state)};

    const std::string note_text = was_run ? read_all(state->note.get()) : std::string{};
    const std::string head = head_of(settings);
    if (note_text.size() >= head.size() && !note_text.starts_with(head))
        return tl::unexpected{
            note_text.starts_with(first_word)
                ? path +
                      " was begun with other dates, criteria or form, or by another version; "
                      "--resume needs the same"
                : state->note_path + " is not a note of keyhour batch"};
    struct stat status {};
    ::fstat(state->out.get(), &status);
    // What follows the last whole record of the note, and what the output holds beyond it, is torn.
    std::size_t good = 0;
    if (note_text.starts_with(head))
        good = state->read_note(note_text, static_cast<std::uint64_t>(status.st_size));
    state->ahead = state->kept;
    if (::ftruncate(state->out.get(), static_cast<off_t>(state->kept.bytes)) != 0 ||
        ::ftruncate(state->note.get(), static_cast<off_t>(good)) != 0)
        state->error = errno;
    ::lseek(state->out.get(), 0, SEEK_END);
    ::lseek(state->note.get(), 0, SEEK_END);
    if (state->error == 0 && good == 0) state->error = write_all(state->note.get(), head);
    if (state->error != 0) return tl::unexpected{fault(path, "cannot be written", state->error)};
    return RunFile{std::move(state)};
}

const RunProgress& RunFile::kept() const noexcept {
    return state_->kept;
}

bool RunFile::was_finished() const noexcept {
    return state_->was_finished;
}

bool RunFile::append(std::string_view text, RunProgress after) {
    if (state_->error != 0) return false;
    after.bytes = state_->ahead.bytes + text.size();
    state_->ahead = after;
    state_->held += text;
    const auto held_for = std::chrono::steady_clock::now() - state_->since;
    return (state_->held.size() < most_held && held_for < longest_held) || write_out();
}

bool RunFile::write_out() {
    if (state_->error != 0) return false;
    if (!state_->out.is_open()) return true;
    state_->error = write_all(state_->out.get(), state_->held);
    if (state_->error != 0) return false;
    state_->held.clear();
    state_->since = std::chrono::steady_clock::now();
    if (state_->note.is_open() && state_->ahead.inputs != state_->kept.inputs)
        state_->error = write_all(state_->note.get(), record_of(state_->ahead));
    if (state_->error == 0) state_->kept = state_->ahead;
    return state_->error == 0;
}

bool RunFile::finish() {
    if (!write_out()) return false;
    if (state_->note.is_open()) ::unlink(state_->note_path.c_str());
    return true;
}

std::string RunFile::error() const {
    return std::strerror(state_->error);
}

}  // namespace keyhour::file
