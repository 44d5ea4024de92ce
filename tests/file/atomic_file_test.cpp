#include "file/atomic_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <csignal>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "file/part_files.hpp"

namespace fs = std::filesystem;
using keyhour::file::AtomicFile;
using Existing = AtomicFile::Existing;

namespace {

/// A folder of its own, gone at the end.
struct Folder {
    fs::path path = fs::temp_directory_path() / ("keyhour-atomic-" + std::to_string(::getpid()));
    Folder() { fs::create_directories(path); }
    ~Folder() { fs::remove_all(path); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    [[nodiscard]] std::string file(const char* name) const { return (path / name).string(); }
    [[nodiscard]] auto count() const {
        return std::distance(fs::directory_iterator{path}, fs::directory_iterator{});
    }
};

std::string contents(const std::string& path) {
    std::ostringstream text;
    text << std::ifstream{path}.rdbuf();
    return text.str();
}

void put(const std::string& path, const std::string& text) {
    std::ofstream{path} << text;
}

}  // namespace

TEST_CASE("a file appears when it is committed, and not before", "[file]") {
    const Folder folder;
    auto out = AtomicFile::create(folder.file("a"), Existing::refuse);
    REQUIRE(out.has_value());
    out->stream() << "whole";
    CHECK_FALSE(fs::exists(folder.file("a")));
    REQUIRE(out->commit().has_value());
    CHECK(contents(folder.file("a")) == "whole");
    out = tl::unexpected{std::string{}};
    CHECK(folder.count() == 1);
}

TEST_CASE("what is never committed leaves nothing behind", "[file]") {
    const Folder folder;
    put(folder.file("a"), "old");
    {
        auto out = AtomicFile::create(folder.file("a"), Existing::replace);
        REQUIRE(out.has_value());
        out->stream() << "half";
    }
    CHECK(contents(folder.file("a")) == "old");
    CHECK(folder.count() == 1);
}

TEST_CASE("an existing file is replaced only if asked", "[file]") {
    const Folder folder;
    const std::string a = folder.file("a");
    put(a, "old");
    fs::permissions(a, fs::perms::owner_read | fs::perms::owner_write);
    CHECK(AtomicFile::create(a, Existing::refuse).error() ==
          a + ": exists already; --force overwrites it");
    auto out = AtomicFile::create(a, Existing::replace);
    REQUIRE(out.has_value());
    out->stream() << "new";
    REQUIRE(out->commit().has_value());
    CHECK(contents(a) == "new");
    CHECK(fs::status(a).permissions() == (fs::perms::owner_read | fs::perms::owner_write));
}

TEST_CASE("a name taken meanwhile is not overwritten", "[file]") {
    const Folder folder;
    auto out = AtomicFile::create(folder.file("a"), Existing::refuse);
    REQUIRE(out.has_value());
    put(folder.file("a"), "another's");
    CHECK(out->commit().error() == folder.file("a") + ": exists already; --force overwrites it");
    CHECK(contents(folder.file("a")) == "another's");
}

TEST_CASE("behind a symbolic link the file is replaced, not the link", "[file]") {
    const Folder folder;
    put(folder.file("a"), "old");
    fs::create_symlink("a", folder.file("link"));
    auto out = AtomicFile::create(folder.file("link"), Existing::replace);
    REQUIRE(out.has_value());
    out->stream() << "new";
    REQUIRE(out->commit().has_value());
    CHECK(fs::is_symlink(folder.file("link")));
    CHECK(contents(folder.file("a")) == "new");
}

TEST_CASE("what cannot be written is said with its name and the reason", "[file]") {
    const Folder folder;
    CHECK(AtomicFile::create(folder.path.string(), Existing::replace).error() ==
          folder.path.string() + ": cannot be written: it is a folder");
    const std::string lost = folder.file("none/a");
    CHECK(AtomicFile::create(lost, Existing::replace).error() ==
          lost + ": cannot be written: No such file or directory");
    // A device is written to as it is, never replaced; this one is always full.
    auto full = AtomicFile::create("/dev/full", Existing::replace);
    REQUIRE(full.has_value());
    full->stream() << "text";
    CHECK(full->commit().error() == "/dev/full: cannot be written: No space left on device");
    CHECK(fs::is_character_file("/dev/full"));
}

namespace {

std::vector<std::string> told_to_system;  // what a file's last calls were

}  // namespace

// In place of the C library's, for all of this program.
extern "C" int fsync(int descriptor) {
    struct stat status {};
    ::fstat(descriptor, &status);
    told_to_system.push_back(S_ISDIR(status.st_mode) ? "flush folder" : "flush file");
    return static_cast<int>(::syscall(SYS_fsync, descriptor));
}

extern "C" int rename(const char* from, const char* to) noexcept {
    told_to_system.push_back("rename");
    return static_cast<int>(::syscall(SYS_renameat2, AT_FDCWD, from, AT_FDCWD, to, 0));
}

TEST_CASE("what cannot be made again is on disk before it takes another's place", "[file]") {
    const Folder folder;
    const std::string a = folder.file("a");
    put(a, "old");
    auto out = AtomicFile::create(a, Existing::replace, AtomicFile::Flush::to_disk);
    REQUIRE(out.has_value());
    out->stream() << "new";
    told_to_system.clear();
    REQUIRE(out->commit().has_value());
    CHECK(told_to_system == std::vector<std::string>{"flush file", "rename", "flush folder"});
    CHECK(contents(a) == "new");
}

TEST_CASE("what a killed run left unfinished is deleted by the next, nobody else's file",
          "[file]") {
    const Folder folder;
    const std::string a = folder.file("a");
    const auto parts = [&] {
        std::vector<std::string> found;
        for (const auto& entry : fs::directory_iterator{folder.path})
            if (keyhour::file::is_part_name(entry.path().filename().string()))
                found.push_back(entry.path().filename().string());
        return found;
    };
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        auto out = AtomicFile::create(a, Existing::replace);
        out->stream() << "half";
        out->stream().flush();
        ::kill(::getpid(), SIGKILL);
    }
    ::waitpid(child, nullptr, 0);
    REQUIRE(parts().size() == 1);
    const std::string left = parts().front();
    // Names that only look alike: another check, another's extension.
    std::string alike = left;
    alike[alike.size() - 6] = alike[alike.size() - 6] == '0' ? '1' : '0';
    for (const std::string& name : {alike, std::string{"a.123-0.part"}, std::string{"notes.part"}})
        put(folder.file(name.c_str()), "somebody's");
    {
        auto live = AtomicFile::create(folder.file("b"), Existing::replace);
        REQUIRE(live.has_value());
        CHECK(parts().size() == 1);
        CHECK(parts().front() != left);
        // Another process, while that one is unfinished: it is alive.
        const pid_t other = ::fork();
        REQUIRE(other >= 0);
        if (other == 0) {
            const keyhour::file::PartFolder entered{folder.path.string()};
            ::_exit(0);
        }
        ::waitpid(other, nullptr, 0);
        CHECK(parts().size() == 1);
    }
    CHECK(folder.count() == 3);
}

TEST_CASE("a link to nothing yet is followed, and a stream that is open is gone on with",
          "[file]") {
    const Folder folder;
    fs::create_symlink("a", folder.file("link"));
    {
        auto out = AtomicFile::create(folder.file("link"), Existing::replace);
        REQUIRE(out.has_value());
        out->stream() << "new";
        REQUIRE(out->commit().has_value());
    }
    CHECK(fs::is_symlink(folder.file("link")));
    CHECK(contents(folder.file("a")) == "new");
    // Opened anew, its beginning would be written over.
    const int log = ::open(folder.file("log").c_str(), O_RDWR | O_CREAT, 0600);
    REQUIRE(::write(log, "before ", 7) == 7);
    {
        auto out = AtomicFile::create("/dev/fd/" + std::to_string(log), Existing::replace);
        REQUIRE(out.has_value());
        out->stream() << "after";
        REQUIRE(out->commit().has_value());
    }
    ::close(log);
    CHECK(contents(folder.file("log")) == "before after");
}

TEST_CASE("a long name leaves room for the unfinished file's", "[file]") {
    const Folder folder;
    const std::string path = folder.file(std::string(255, 'n').c_str());
    auto out = AtomicFile::create(path, Existing::refuse);
    REQUIRE(out.has_value());
    out->stream() << "whole";
    REQUIRE(out->commit().has_value());
    CHECK(contents(path) == "whole");
}
