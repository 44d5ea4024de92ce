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
#include <string_view>
#include <utility>

#include "descriptor.hpp"
#include "output_place.hpp"
#include "part_files.hpp"

namespace keyhour::file {

namespace {

constexpr std::size_t most_held = std::size_t{256} << 10U;
constexpr std::chrono::milliseconds longest_held{20};
constexpr const char* first_word = "keyhour-batch-run-1";
constexpr const char* being_written = ": another run is writing it";

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

/// Opens the note and takes its lock. A run that has just ended may delete it between the two.
tl::expected<Descriptor, std::string> locked_note(const std::string& path,
                                                  const std::string& output) {
    while (true) {
        Descriptor note{::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666)};
        if (!note.is_open()) return tl::unexpected{fault(path, "cannot be written", errno)};
        if (!lock(note.get(), LOCK_EX)) return tl::unexpected{output + being_written};
        struct stat held {
        }, named{};
        if (::fstat(note.get(), &held) == 0 && ::stat(path.c_str(), &named) == 0 &&
            held.st_dev == named.st_dev && held.st_ino == named.st_ino)
            return note;
    }
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
    std::uint64_t to_compare = 0;  ///< bytes that are there beyond what the note tells of
    int error = 0;
    bool is_other = false;  ///< those bytes are not what the run answers
    bool has_lost_note = false, has_added = false;

    /// Reads the note, and stands where the run goes on.
    tl::expected<void, std::string> begin(Start start, std::uint64_t settings, bool was_run) {
        const bool anew = start != Start::go_on;
        const std::string note_text = was_run && !anew ? read_all(note.get()) : std::string{};
        const std::string head = head_of(settings);
        if (note_text.size() >= head.size() && !note_text.starts_with(head))
            return tl::unexpected{
                note_text.starts_with(first_word)
                    ? path +
                          " was begun with other dates, criteria or form, or by another version; "
                          "--resume needs the same"
                    : note_path + " is not a note of keyhour batch"};
        if (anew && ::ftruncate(out.get(), 0) != 0) error = errno;
        struct stat status {};
        ::fstat(out.get(), &status);
        const auto size = static_cast<std::uint64_t>(status.st_size);
        // What follows the last whole record of the note is torn; what the output holds beyond it
        // is compared, as a kill leaves the beginning of what comes next, and a person other
        // things.
        std::size_t good = 0;
        if (note_text.starts_with(head)) good = read_note(note_text, size);
        has_lost_note = !was_run && size > 0;
        to_compare = size - kept.bytes;
        ahead = kept;
        if (::ftruncate(note.get(), static_cast<off_t>(good)) != 0) error = errno;
        ::lseek(out.get(), static_cast<off_t>(kept.bytes), SEEK_SET);
        ::lseek(note.get(), 0, SEEK_END);
        if (error == 0 && good == 0) error = write_all(note.get(), head);
        if (error != 0) return tl::unexpected{fault(path, "cannot be written", error)};
        return {};
    }

    /// Passes over what is there already, byte for byte. @return the text that is not
    std::string_view beyond_what_is_there(std::string_view text) {
        std::array<char, 16384> piece{};
        while (to_compare > 0 && !text.empty()) {
            const auto n = static_cast<std::size_t>(
                std::min<std::uint64_t>({text.size(), piece.size(), to_compare}));
            const ssize_t read = ::read(out.get(), piece.data(), n);
            if (read < 0 && errno == EINTR) continue;
            const auto got = static_cast<std::size_t>(std::max<ssize_t>(read, 0));
            if (read <= 0 || text.substr(0, got) != std::string_view{piece.data(), got}) {
                is_other = true;
                return {};
            }
            to_compare -= got;
            text.remove_prefix(got);
        }
        return text;
    }

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
    if (!state_) return;
    static_cast<void>(write_out());
    // Somebody else's output is left as if there had been no run.
    if (state_->is_other && state_->has_lost_note) ::unlink(state_->note_path.c_str());
}

tl::expected<RunFile, std::string> RunFile::open(const std::string& path, Start start,
                                                 std::uint64_t settings) {
    auto place = output_place(path);
    if (!place) return tl::unexpected{std::move(place.error())};
    auto state = std::make_unique<State>();
    state->path = path;
    if (place->kind == OutputPlace::Kind::stream) {
        state->out = place->open_stream();
        if (!state->out.is_open()) return tl::unexpected{fault(path, "cannot be written", errno)};
        return RunFile{std::move(state)};
    }
    // Its lock first, whatever is asked: nothing about a live run's output is to be told or done.
    if (is_being_written(*place)) return tl::unexpected{path + being_written};
    state->note_path = place->target + ".resume";
    const bool was_run = has_note(*place);
    if (start == Start::fresh && was_run)
        return tl::unexpected{
            fmt::format("{0} is the output of an interrupted run; --resume goes on with it, "
                        "--force begins anew",
                        path)};
    const auto folder = PartFolder::of(place->target);
    state->out = Descriptor{::open(place->target.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666)};
    if (!state->out.is_open()) return tl::unexpected{fault(path, "cannot be written", errno)};
    if (!lock(state->out.get(), LOCK_EX)) return tl::unexpected{path + being_written};
    auto note = locked_note(state->note_path, path);
    if (!note) {
        if (place->kind == OutputPlace::Kind::absent) ::unlink(place->target.c_str());
        return tl::unexpected{std::move(note.error())};
    }
    state->note = *std::move(note);
    if (auto told = state->begin(start, settings, was_run); !told)
        return tl::unexpected{std::move(told.error())};
    return RunFile{std::move(state)};
}

const RunProgress& RunFile::kept() const noexcept {
    return state_->kept;
}

bool has_note(const OutputPlace& place) {
    return place.kind != OutputPlace::Kind::stream &&
           ::access((place.target + ".resume").c_str(), F_OK) == 0;
}

void delete_note(const OutputPlace& place) {
    if (place.kind != OutputPlace::Kind::stream) ::unlink((place.target + ".resume").c_str());
}

bool RunFile::has_lost_note() const noexcept {
    return state_->has_lost_note;
}

bool RunFile::was_whole() const noexcept {
    return state_->has_lost_note && !state_->has_added;
}

bool RunFile::holds_other() const noexcept {
    return state_->is_other;
}

bool RunFile::append(std::string_view text, RunProgress after) {
    if (state_->error != 0 || state_->is_other) return false;
    after.bytes = state_->ahead.bytes + text.size();
    state_->ahead = after;
    state_->held += text;
    const auto held_for = std::chrono::steady_clock::now() - state_->since;
    return (state_->held.size() < most_held && held_for < longest_held) || write_out();
}

bool RunFile::write_out() {
    State& s = *state_;
    if (s.error != 0 || s.is_other) return false;
    if (!s.out.is_open()) return true;
    const std::string_view text = s.beyond_what_is_there(s.held);
    if (s.is_other) return false;
    s.error = write_all(s.out.get(), text);
    if (s.error != 0) return false;
    s.has_added = s.has_added || !text.empty();
    s.held.clear();
    s.since = std::chrono::steady_clock::now();
    if (s.note.is_open() && s.ahead.inputs != s.kept.inputs)
        s.error = write_all(s.note.get(), record_of(s.ahead));
    if (s.error == 0) s.kept = s.ahead;
    return s.error == 0;
}

bool RunFile::finish() {
    State& s = *state_;
    if (!write_out()) return false;
    s.is_other = s.to_compare > 0;
    if (s.is_other) return false;
    if (!s.note.is_open()) return true;
    // The note goes only when the output is safe without it.
    if (::fsync(s.out.get()) != 0) s.error = errno;
    if (s.error == 0) ::unlink(s.note_path.c_str());
    return s.error == 0;
}

std::string RunFile::error() const {
    return std::strerror(state_->error);
}

}  // namespace keyhour::file
