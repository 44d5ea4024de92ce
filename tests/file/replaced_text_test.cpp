#include "file/replaced_text.hpp"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "support/scratch_folder.hpp"

using namespace keyhour;

namespace {

std::string text_of(const std::string& path) {
    std::ifstream in{path};
    return {std::istreambuf_iterator<char>{in}, {}};
}

}  // namespace

TEST_CASE("a file is replaced whole, behind a link too, but not if protected or changed",
          "[file]") {
    namespace fs = std::filesystem;
    const test::ScratchFolder folder;
    const std::string path = folder.write("p.toml", "old");
    REQUIRE(file::replace_text(path, "old", "new"));
    CHECK(text_of(path) == "new");

    const std::string link = folder.path("link.toml");
    fs::create_symlink("p.toml", link);
    REQUIRE(file::replace_text(link, "new", "newer"));
    CHECK(fs::is_symlink(link));
    CHECK(text_of(path) == "newer");

    const auto meanwhile = file::replace_text(path, "old", "new");
    REQUIRE_FALSE(meanwhile);
    CHECK(meanwhile.error().find("changed meanwhile") != std::string::npos);

    fs::permissions(path, fs::perms::owner_read);
    const auto shut = file::replace_text(path, "newer", "newest");
    REQUIRE_FALSE(shut);
    CHECK(shut.error().find("read-only") != std::string::npos);
    CHECK(text_of(path) == "newer");
    CHECK_FALSE(file::replace_text(folder.path(), "", ""));
    CHECK_FALSE(file::replace_text(folder.path("none.toml"), "", ""));
    int files = 0;
    for ([[maybe_unused]] const auto& entry : fs::directory_iterator{folder.path()})
        ++files;
    CHECK(files == 2);  // nothing unfinished stays
}
