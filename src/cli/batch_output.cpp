#include "batch_output.hpp"

#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>

#include "batch_source.hpp"
#include "file/output_place.hpp"
#include "file/run_file.hpp"
#include "own_output.hpp"
#include "read/named_files.hpp"

namespace keyhour::cli {
namespace {

namespace fs = std::filesystem;
using file::OutputPlace;

/// Standard input by its descriptor: it has no name to compare.
bool is_standard_input(const std::string& path) {
    struct stat of_output {
    }, of_input{};
    return ::stat(path.c_str(), &of_output) == 0 && ::fstat(STDIN_FILENO, &of_input) == 0 &&
           of_output.st_dev == of_input.st_dev && of_output.st_ino == of_input.st_ino;
}

/// Is the output this place's file, or, where something is written over by force, one that it leads
/// to? Without force those are refused as not written by keyhour.
bool is_read_for(const std::string& place, const BatchRequest& r) {
    if (is_same_file(r.out, place)) return true;
    if (!r.force) return false;
    for (const std::string& path : read::files_read(place))
        if (is_same_file(r.out, path)) return true;
    return false;
}

/// Would the walk through this folder meet the output, once it is there?
bool would_be_found(const OutputPlace& place, const std::string& folder, bool recursive) {
    const fs::path target{place.target};
    if (target.extension() != ".toml") return false;
    for (fs::path at = target.parent_path();; at = at.parent_path()) {
        if (is_same_file(at.empty() ? "." : at.string(), folder)) return true;
        if (!recursive || at.empty() || at == at.root_path()) return false;
    }
}

bool is_input(const BatchRequest& r, const OutputPlace& place) {
    const bool is_there = place.kind == OutputPlace::Kind::plain;
    if (!r.dates.dates.empty() && is_same_file(r.out, r.dates.dates)) return true;
    for (const std::string& input : r.inputs) {
        std::error_code ignored;
        if (input == "-") {
            if (is_standard_input(r.out)) return true;
        } else if (fs::is_directory(input, ignored)) {
            if (would_be_found(place, input, r.recursive)) return true;
            FolderNames names{input, r.recursive};
            while (const auto name = is_there ? names.next() : std::nullopt)
                if (is_read_for(*name, r)) return true;
        } else if (is_there && is_read_for(input, r)) {
            return true;
        }
    }
    return false;
}

}  // namespace

std::optional<Failure> may_begin(const BatchRequest& r) {
    const auto place = file::output_place(r.out);
    if (!place) return Failure{bad_data, place.error()};
    if (place->kind == OutputPlace::Kind::stream) return std::nullopt;
    if (file::is_being_written(*place))
        return Failure{bad_data, r.out + ": another run is writing it"};
    if (is_input(r, *place)) return is_an_input(r.out);
    if (!r.resume) return may_write(r.out, r.force, {});
    // Going on, all that is there beyond the note is compared; without a note all of it.
    if (place->kind == OutputPlace::Kind::absent || file::has_note(*place) || r.no_header ||
        is_own_output(r.out, true))
        return std::nullopt;
    return Failure{bad_data, r.out + ": was not written by keyhour: nothing to go on with"};
}

}  // namespace keyhour::cli
