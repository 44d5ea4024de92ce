#pragma once
/// @file
/// Where an output is to go, looked at before anything is computed.

#include <string>
#include <tl/expected.hpp>

#include "descriptor.hpp"

namespace keyhour::file {

struct OutputPlace {
    enum class Kind {
        absent,  ///< to be made
        plain,   ///< a regular file
        stream   ///< a pipe, a device, or a stream that this process has open already: /dev/stdout
    };
    std::string target;  ///< behind all symbolic links; of a stream the path itself
    Kind kind = Kind::absent;
    int descriptor = -1;  ///< of a stream that is open already

    /// Opens a stream for writing, where it stands. @return not open, with errno, if that fails
    [[nodiscard]] Descriptor open_stream() const;
};

/// @return the place, or why no output can go there (a folder, no such folder, not writable),
///         naming `path`
[[nodiscard]] tl::expected<OutputPlace, std::string> output_place(const std::string& path);

/// Is a run writing this output now? (run_file.hpp) By its lock, whatever the name it is reached
/// by.
[[nodiscard]] bool is_being_written(const OutputPlace& place);

/// "out.csv: cannot be written: No space left on device"
[[nodiscard]] std::string cannot_be_written(const std::string& path, const std::string& reason);

}  // namespace keyhour::file
