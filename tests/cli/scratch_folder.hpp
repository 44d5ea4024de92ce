#pragma once
// A folder of the test's own, gone at its end.

#include <unistd.h>

#include <filesystem>
#include <string>

struct ScratchFolder {
    std::filesystem::path path;
    /// Tests run side by side, a process each: the name carries the process.
    explicit ScratchFolder(const std::string& name)
        : path{std::filesystem::temp_directory_path() / (name + "_" + std::to_string(getpid()))} {
        std::filesystem::remove_all(path);
        std::filesystem::create_directories(path);
    }
    ~ScratchFolder() { std::filesystem::remove_all(path); }
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
};
