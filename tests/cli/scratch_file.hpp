#pragma once
// A location file of the test's own, gone at its end; and an example's text with one change.

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "scratch_folder.hpp"

struct ScratchFile {
    std::string path;
    /// Tests run side by side, a process each: the folder is the process's own, and goes with it.
    static const std::filesystem::path& own_folder() {
        static const ScratchFolder folder{"keyhour-files"};
        return folder.path;
    }
    ScratchFile(const char* name, const std::string& text) : path{(own_folder() / name).string()} {
        std::ofstream{path} << text;
    }
    ~ScratchFile() { std::filesystem::remove(path); }
    ScratchFile(const ScratchFile&) = delete;
    ScratchFile& operator=(const ScratchFile&) = delete;
};

inline std::string example(const std::string& name) {
    return std::string{KEYHOUR_LOCATIONS "/"} + name + ".toml";
}

inline std::string example_text(const std::string& name) {
    std::ostringstream text;
    text << std::ifstream{example(name)}.rdbuf();
    return text.str();
}

/// Everything up to the first `[[table]]`, or without those tables up to the next other one.
inline std::string without_tables(std::string text, const std::string& table) {
    const std::string heading = "[[" + table + "]]";
    for (std::size_t at = text.find(heading); at != std::string::npos; at = text.find(heading)) {
        std::size_t end = text.find("\n[", at);
        end = end == std::string::npos ? text.size() : end + 1;
        text.erase(at, end - at);
    }
    return text;
}

inline std::string changed(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}
