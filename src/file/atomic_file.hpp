#pragma once
/// @file
/// A file that appears whole or not at all: written beside its place and renamed when committed.

#include <memory>
#include <ostream>
#include <string>
#include <tl/expected.hpp>

namespace keyhour::file {

class AtomicFile {
public:
    enum class Existing { replace, refuse };
    enum class Flush {
        by_system,  ///< in its own time: what is written can be made again
        to_disk     ///< before it takes the place of a file that cannot
    };

    /// Opens a file beside `path`. What exists and is no regular file (a pipe, /dev/null) is
    /// written to directly. Nothing at `path` changes before commit(). What a killed run left
    /// unfinished in the same folder is deleted (part_files.hpp).
    /// @return the file, or why it can't be written, naming `path`
    [[nodiscard]] static tl::expected<AtomicFile, std::string> create(
        const std::string& path, Existing existing, Flush flush = Flush::by_system);

    AtomicFile(AtomicFile&&) noexcept;
    AtomicFile& operator=(AtomicFile&&) noexcept;
    ~AtomicFile();  ///< deletes what was never committed

    [[nodiscard]] std::ostream& stream();

    /// Ends the writing and gives the file's handle back: any number may wait for commit().
    /// @return or why not all of it could be written; a second call does nothing
    [[nodiscard]] tl::expected<void, std::string> close();

    /// Puts the file in its place.
    /// @return or why it isn't there: the disk is full, the folder gone, the name taken meanwhile
    [[nodiscard]] tl::expected<void, std::string> commit();

private:
    struct State;
    explicit AtomicFile(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

}  // namespace keyhour::file
