#include "sheet_folder.hpp"

#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <ostream>
#include <system_error>

#include "file/atomic_file.hpp"
#include "held_stop.hpp"
#include "own_output.hpp"

namespace keyhour::cli {
namespace {

namespace fs = std::filesystem;

/// The whole content beside the file, not yet in its place.
Answer<file::AtomicFile> written_beside(const std::string& path, const std::string& content,
                                        bool force) {
    // Once more: something may have come there while all was drawn.
    if (auto failure = may_write(path, force, {})) return tl::unexpected{*std::move(failure)};
    auto file = file::AtomicFile::create(path, file::AtomicFile::Existing::replace);
    if (!file) return data_failure(file.error());
    file->stream() << content;
    if (const auto closed = file->close(); !closed) return data_failure(closed.error());
    return std::move(*file);
}

}  // namespace

std::optional<Failure> may_fill(const std::string& folder, const std::vector<std::string>& names,
                                bool force, const std::vector<std::string>& inputs) {
    const auto refused = [&](const std::string& why) {
        return Failure{bad_data, folder + ": cannot be written: " + why};
    };
    std::error_code error;
    fs::path there = folder;
    if (there.filename().empty()) there = there.parent_path();
    const bool is_there = fs::exists(there, error);
    if (is_there && !fs::is_directory(there, error)) return refused("it is no folder");
    while (!there.empty() && !fs::exists(there, error))
        there = there.parent_path();
    if (there.empty()) there = ".";
    if (!fs::is_directory(there, error)) return refused(there.string() + " is no folder");
    if (::access(there.c_str(), W_OK | X_OK) != 0) return refused(std::strerror(errno));
    for (const std::string& name : names) {
        if (!is_there) break;
        const std::string path = (fs::path{folder} / name).string();
        if (fs::is_fifo(path, error) || fs::is_socket(path, error))  // would be waited for
            return Failure{bad_data, path + ": cannot be written: it is no plain file"};
        if (auto failure = may_write(path, force, inputs)) return failure;
    }
    return std::nullopt;
}

std::optional<Failure> write_file(const std::string& path, const std::string& content, bool force) {
    auto file = written_beside(path, content, force);
    if (!file) return file.error();
    if (const auto done = file->commit(); !done) return Failure{bad_data, done.error()};
    return std::nullopt;
}

std::optional<Failure> write_folder(const std::string& folder, const std::vector<SheetFile>& files,
                                    bool force) {
    std::error_code error;
    fs::create_directories(folder, error);
    if (error) return Failure{bad_data, folder + ": cannot be made: " + error.message()};
    const HeldStop stop;  // what stands beside goes before it obeys
    std::vector<file::AtomicFile> beside;
    for (const SheetFile& f : files) {
        auto file = written_beside((fs::path{folder} / f.name).string(), f.content, force);
        if (!file) return file.error();
        if (HeldStop::is_asked()) return Failure{bad_data, folder + ": told to stop"};
        beside.push_back(std::move(*file));
    }
    for (file::AtomicFile& file : beside)
        if (const auto done = file.commit(); !done) return Failure{bad_data, done.error()};
    return std::nullopt;
}

}  // namespace keyhour::cli
