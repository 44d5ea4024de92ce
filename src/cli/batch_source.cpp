#include "batch_source.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <istream>

#include "read/location_file.hpp"

namespace keyhour::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_names = 16'384;
constexpr const char* standard_input = "standard input";

bool is_blank(const std::string& line) {
    return line.find_first_not_of(" \t\r") == std::string::npos;
}

/// One line without its end. What is longer than a location may be is passed over, not kept.
bool read_line(std::istream& in, std::string& line, bool& too_long) {
    constexpr int end = std::char_traits<char>::eof();
    std::streambuf& bytes = *in.rdbuf();
    line.clear();
    too_long = false;
    int c = bytes.sbumpc();
    if (c == end) return false;
    for (; c != end && c != '\n'; c = bytes.sbumpc()) {
        too_long = line.size() == read::largest_location_bytes;
        if (!too_long) line += static_cast<char>(c);
    }
    return true;
}

}  // namespace

template <class See>
void FolderNames::for_each_name(const See& see) {
    std::vector<std::string> folders{folder_};
    while (!folders.empty()) {
        const std::string folder = std::move(folders.back());
        folders.pop_back();
        std::error_code error, ignored;
        fs::directory_iterator at{folder, error};
        for (; !error && at != fs::directory_iterator{}; at.increment(error)) {
            const fs::path& path = at->path();
            if (path.extension() == ".toml" && !at->is_directory(ignored)) see(path.string());
            // A link to a folder is not followed: it may lead back.
            if (recursive_ && fs::is_directory(at->symlink_status(ignored)))
                folders.push_back(path.string());
        }
        // One that cannot be read is told, and the others are read.
        if (error)
            faults_.insert(
                fmt::format("{}: the folder cannot be read: {}", folder, error.message()));
    }
}

void FolderNames::look() {
    // A heap of the smallest names beyond the last one given, the largest of them on top.
    for_each_name([this](std::string path) {
        if (!last_.empty() && path <= last_) return;
        if (names_.size() == most_names) {
            if (path >= names_.front()) return;
            std::pop_heap(names_.begin(), names_.end());
            names_.pop_back();
        }
        names_.push_back(std::move(path));
        std::push_heap(names_.begin(), names_.end());
    });
    is_done_ = names_.size() < most_names;
    std::sort(names_.begin(), names_.end(), std::greater<>{});
}

std::optional<std::string> FolderNames::next() {
    if (names_.empty() && !is_done_) look();
    if (names_.empty()) return std::nullopt;
    last_ = std::move(names_.back());
    names_.pop_back();
    return last_;
}

std::optional<std::string> FolderNames::next_fault() {
    if (faults_.empty()) return std::nullopt;
    return faults_.extract(faults_.begin()).value();
}

std::size_t FolderNames::count() {
    std::size_t n = 0;
    for_each_name([&](const std::string&) { ++n; });
    return n + faults_.size();
}

BatchSource::BatchSource(std::vector<std::string> inputs, bool recursive, std::size_t parts,
                         std::istream& in)
    : inputs_{std::move(inputs)}, recursive_{recursive}, parts_{parts}, in_{in} {}

std::optional<std::size_t> BatchSource::count() const {
    std::size_t n = 0;
    std::error_code ignored;
    for (const std::string& input : inputs_) {
        if (input == "-" || fs::path{input}.extension() == ".ndjson") return std::nullopt;
        n += fs::is_directory(input, ignored) ? FolderNames{input, recursive_}.count() : 1;
    }
    return n;
}

std::optional<BatchItem> BatchSource::next() {
    if (last_ && last_->fault.empty() && last_->part + 1 < parts_)
        ++last_->part;
    else
        last_ = next_place();
    return last_;
}

std::optional<BatchItem> BatchSource::next_place() {
    while (true) {
        if (folder_)
            if (auto item = next_in_folder()) return item;
        if (lines_ != nullptr) {
            if (auto item = next_line()) return item;
            lines_ = nullptr;
        }
        if (at_ == inputs_.size()) return std::nullopt;
        if (auto item = begin(inputs_[at_++])) return item;
    }
}

std::optional<BatchItem> BatchSource::next_in_folder() {
    if (auto path = folder_->next()) {
        folder_is_empty_ = false;
        BatchItem item{*path, *path, nullptr, {}, 0};
        item.is_found = true;
        return item;
    }
    const std::string& folder = inputs_[at_ - 1];
    if (const auto fault = folder_->next_fault()) {
        folder_is_empty_ = false;
        return BatchItem{folder, folder, nullptr, *fault, 0};
    }
    folder_.reset();
    if (!folder_is_empty_) return std::nullopt;
    return BatchItem{folder, folder, nullptr,
                     folder + ": this folder holds no location file (*.toml)", 0};
}

std::optional<BatchItem> BatchSource::begin(const std::string& input) {
    std::error_code ignored;
    if (input == "-") {
        begin_lines(in_, standard_input);
        return std::nullopt;
    }
    if (fs::is_directory(input, ignored)) {
        folder_.emplace(input, recursive_);
        folder_is_empty_ = true;
        return std::nullopt;
    }
    if (fs::path{input}.extension() != ".ndjson") return BatchItem{input, input, nullptr, {}, 0};
    const auto faulty = [&](const std::string& why) {
        return BatchItem{input, input, nullptr, fmt::format("{}: {}", input, why), 0};
    };
    // Opening a pipe would wait for its writer.
    if (fs::exists(input, ignored) && !fs::is_regular_file(input, ignored))
        return faulty("this is no plain file");
    line_file_ = std::ifstream{input, std::ios::binary};
    if (!line_file_)
        return faulty(fmt::format("the file cannot be read: {}", std::strerror(errno)));
    begin_lines(line_file_, input);
    return std::nullopt;
}

void BatchSource::begin_lines(std::istream& in, const std::string& source) {
    lines_ = &in;
    line_source_ = source;
    line_number_ = 0;
}

std::optional<BatchItem> BatchSource::next_line() {
    std::string line;
    bool too_long = false;
    do {
        if (!read_line(*lines_, line, too_long)) return std::nullopt;
        ++line_number_;
    } while (is_blank(line));
    const std::string name = fmt::format("line {} of {}", line_number_, line_source_);
    if (too_long)
        return BatchItem{line_source_, name, nullptr,
                         fmt::format("{}: the line is too long; a location holds up to {} MiB",
                                     name, read::largest_location_bytes >> 20U),
                         0};
    return BatchItem{
        line_source_, name, std::make_shared<const std::string>(std::move(line)), {}, 0};
}

}  // namespace keyhour::cli
