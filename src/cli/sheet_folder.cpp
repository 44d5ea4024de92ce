#include "sheet_folder.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <ostream>
#include <system_error>

#include "file/atomic_file.hpp"
#include "held_stop.hpp"

namespace keyhour::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kLookedAt = 600;  // bytes
constexpr const char* kMark = "keyhour light sheet";

}  // namespace

std::optional<Failure> may_write(const std::string& path, bool force) {
    std::error_code error;
    if (force || !fs::is_regular_file(path, error)) return std::nullopt;
    std::ifstream in{path, std::ios::binary};
    std::string head(kLookedAt, '\0');
    in.read(head.data(), static_cast<std::streamsize>(head.size()));
    head.resize(static_cast<std::size_t>(in.gcount()));
    // A PDF carries the mark behind its end, where it shifts nothing.
    in.clear();
    in.seekg(0, std::ios::end);
    const auto size = static_cast<std::streamoff>(in.tellg());
    std::string tail(kLookedAt, '\0');
    in.seekg(std::max<std::streamoff>(0, size - static_cast<std::streamoff>(kLookedAt)));
    in.read(tail.data(), static_cast<std::streamsize>(tail.size()));
    head += tail;
    if (head.find(kMark) != std::string::npos) return std::nullopt;
    return Failure{bad_data,
                   path + ": is there and was not written by keyhour; --force overwrites it"};
}

namespace {

/// The whole content beside the file, not yet in its place.
Answer<file::AtomicFile> written_beside(const std::string& path, const std::string& content,
                                        bool force) {
    if (auto failure = may_write(path, force)) return tl::unexpected{*std::move(failure)};
    auto file = file::AtomicFile::create(path, file::AtomicFile::Existing::replace);
    if (!file) return data_failure(file.error());
    file->stream() << content;
    if (const auto closed = file->close(); !closed) return data_failure(closed.error());
    return std::move(*file);
}

}  // namespace

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
