#pragma once
// A folder of the test's own, gone at its end.

#include <filesystem>

struct ScratchFolder {
    std::filesystem::path path;
    explicit ScratchFolder(const char* name) : path{std::filesystem::temp_directory_path() / name} {
        std::filesystem::remove_all(path);
        std::filesystem::create_directories(path);
    }
    ~ScratchFolder() { std::filesystem::remove_all(path); }
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
};
