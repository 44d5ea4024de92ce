#include "file/append_file.hpp"

#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>

using namespace keyhour;
using Catch::Contains;

namespace {

struct Folder {
    std::filesystem::path path =
        std::filesystem::temp_directory_path() / ("keyhour_append_" + std::to_string(::getpid()));
    Folder() { std::filesystem::create_directories(path); }
    ~Folder() { std::filesystem::remove_all(path); }
    [[nodiscard]] std::string file(const char* name) const { return (path / name).string(); }
};

std::string contents(const std::string& path) {
    std::ostringstream text;
    text << std::ifstream{path}.rdbuf();
    return text.str();
}

constexpr std::size_t most = 1U << 20U;

bool add(const std::string& path, const std::string& text) {
    return file::append_to(path, most, [&](std::string_view) { return text; }).has_value();
}

/// Runs it in a process of its own. @return its exit code
template <class Work>
pid_t in_child(const Work& work) {
    const pid_t child = ::fork();
    if (child == 0) ::_exit(work());
    return child;
}

int code_of(pid_t child) {
    int status = 0;
    ::waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace

TEST_CASE("six processes that append at once lose nothing and mix nothing", "[append]") {
    const Folder folder;
    const std::string path = folder.file("day.log");
    constexpr int processes = 6, each = 25;
    std::vector<pid_t> children;
    for (int p = 0; p < processes; ++p)
        children.push_back(in_child([&] {
            for (int i = 0; i < each; ++i) {
                const std::string line = std::to_string(p) + " " + std::to_string(i) + " " +
                                         std::string(3000, static_cast<char>('a' + p)) + "\n";
                const auto done = file::append_to(path, most, [&](std::string_view before) {
                    // The first one alone finds the file empty.
                    return before.empty() ? "head\n" + line : line;
                });
                if (!done) return 1;
            }
            return 0;
        }));
    for (const pid_t child : children)
        CHECK(code_of(child) == 0);
    std::istringstream lines{contents(path)};
    std::map<int, int> next;
    std::string line;
    REQUIRE(std::getline(lines, line));
    CHECK(line == "head");
    while (std::getline(lines, line)) {
        std::istringstream words{line};
        int p = -1, i = -1;
        std::string filling;
        words >> p >> i >> filling;
        CHECK(i == next[p]++);
        CHECK(filling == std::string(3000, static_cast<char>('a' + p)));
    }
    for (int p = 0; p < processes; ++p)
        CHECK(next[p] == each);
}

TEST_CASE("an append that the disk takes in part is taken back", "[append]") {
    const Folder folder;
    const std::string path = folder.file("day.log");
    REQUIRE(add(path, "one\n"));
    const int code = code_of(in_child([&] {
        std::signal(SIGXFSZ, SIG_IGN);
        const rlimit limit{10, 10};
        ::setrlimit(RLIMIT_FSIZE, &limit);
        return add(path, "two, which is too long\n") ? 1 : 0;
    }));
    CHECK(code == 0);
    CHECK(contents(path) == "one\n");
}

TEST_CASE("what may not be added to is left as it is", "[append]") {
    const Folder folder;
    const std::string path = folder.file("day.log");
    REQUIRE(add(path, "one\n"));
    const auto refused =
        file::append_to(path, most, [](std::string_view) -> tl::expected<std::string, std::string> {
            return tl::unexpected{std::string{"no"}};
        });
    CHECK(refused.error() == "no");
    CHECK(contents(path) == "one\n");
    CHECK_FALSE(file::append_to(path, 2, [](std::string_view) { return std::string{"two\n"}; }));
    CHECK(contents(path) == "one\n");
    REQUIRE(::mkfifo(folder.file("pipe").c_str(), 0600) == 0);
    for (const std::string& other : {folder.path.string(), folder.file("none/day.log"),
                                     folder.file("pipe"), std::string{"/dev/null"}}) {
        INFO(other);
        const auto done =
            file::append_to(other, most, [](std::string_view) { return std::string{"x"}; });
        REQUIRE_FALSE(done);
        CHECK_THAT(done.error(), Contains(other));
    }
}
