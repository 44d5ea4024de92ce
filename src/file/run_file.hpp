#pragma once
/// @file
/// The output file of a long run that may be killed at any moment and gone on with.

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <tl/expected.hpp>

namespace keyhour::file {

struct OutputPlace;

/// How far a run has come. Kept in a file beside the output, NAME.resume, one line each time the
/// output was written out; gone when the run is finished. What the output holds beyond the last
/// such line (a kill came between) is computed again and must be the same, byte for byte.
struct RunProgress {
    std::uint64_t inputs = 0;   ///< answered or refused
    std::uint64_t bytes = 0;    ///< of output
    std::uint64_t lines = 0;    ///< of output
    std::uint64_t refused = 0;  ///< inputs that were no sound location
    std::uint64_t digest = 0;   ///< of those inputs: a changed list is noticed
};

class RunFile {
public:
    enum class Start {
        fresh,    ///< refused where an interrupted run would be lost
        go_on,    ///< with an interrupted run
        over_all  ///< as fresh, but over whatever is there
    };

    /// Opens the output.
    /// @param settings  digest of what shapes the output: a run is gone on with only by the same
    ///        question
    /// @return the file, at its beginning or where the kept run ended; or why not: it cannot be
    ///         written, another run is writing it, an interrupted run would be lost (fresh), the
    ///         settings differ (go_on)
    /// @pre what is there may be written over (fresh); go_on looks for itself
    [[nodiscard]] static tl::expected<RunFile, std::string> open(const std::string& path,
                                                                 Start start,
                                                                 std::uint64_t settings);

    RunFile(RunFile&&) noexcept;
    RunFile& operator=(RunFile&&) noexcept;
    ~RunFile();  ///< keeps what was written out

    /// Where the run stands on disk.
    [[nodiscard]] const RunProgress& kept() const noexcept;
    /// go_on found an output, but no note that tells how far it came: it is finished, or its note
    /// is lost, or it was never a run's. All is to be answered again and is compared with it.
    [[nodiscard]] bool has_lost_note() const noexcept;
    /// After finish(): such an output was whole, nothing was added.
    [[nodiscard]] bool was_whole() const noexcept;
    /// It holds something else than the run answers; nothing of it was written over.
    [[nodiscard]] bool holds_other() const noexcept;

    /// Adds text; `after` says how far the run has come with it (bytes are counted here).
    /// @return false if the output cannot be written: see error()
    [[nodiscard]] bool append(std::string_view text, RunProgress after);
    /// Writes out what is held back. @return as append()
    [[nodiscard]] bool write_out();
    /// Writes out and forgets that this was a run. @return as append()
    [[nodiscard]] bool finish();
    /// Why a write failed, in words.
    [[nodiscard]] std::string error() const;

private:
    struct State;
    explicit RunFile(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

/// Does a note of a run lie beside this output? Then the run is going on or was interrupted.
[[nodiscard]] bool has_note(const OutputPlace& place);
/// Forgets an interrupted run, as something else has taken the place of its output.
void delete_note(const OutputPlace& place);

/// FNV-1a (Fowler, Noll, Vo), 64 bits: tells apart what was changed by mistake, not by malice.
[[nodiscard]] std::uint64_t digest(std::string_view bytes,
                                   std::uint64_t before = 14695981039346656037ULL) noexcept;

}  // namespace keyhour::file
