#include "file/atomic_file.hpp"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <sstream>

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
