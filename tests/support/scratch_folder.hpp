#pragma once
/// @file
/// A folder of its own, gone at the end.

#include <unistd.h>

#include <atomic>
#include <filesystem>
#include <fstream>
#include <string>

namespace keyhour::test {

class ScratchFolder {
public:
    ScratchFolder() {
        static std::atomic<int> count{0};
        path_ = std::filesystem::temp_directory_path() /
                ("keyhour-" + std::to_string(getpid()) + "-" + std::to_string(count++));
        std::filesystem::create_directories(path_);
    }
    ~ScratchFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;

    [[nodiscard]] std::string path(const std::string& name) const {
        return (path_ / name).string();
    }
    [[nodiscard]] std::string path() const { return path_.string(); }
    std::string write(const std::string& name, const std::string& text) const {
        std::ofstream{path(name), std::ios::binary} << text;
        return path(name);
    }

private:
    std::filesystem::path path_;
};

}  // namespace keyhour::test
