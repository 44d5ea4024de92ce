// What stands in the folders that a batch walks through, and what one bad place does to the others.

#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "child.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "scratch_file.hpp"
#include "scratch_folder.hpp"

namespace fs = std::filesystem;

namespace {

void write(const fs::path& path, const std::string& text) {
    fs::create_directories(path.parent_path());
    std::ofstream{path} << text;
}

std::string contents(const fs::path& path) {
    std::ostringstream text;
    text << std::ifstream{path}.rdbuf();
    return text.str();
}

/// Root may read everything: while this lives, somebody else asks.
class AsNobody {
public:
    AsNobody() {
        if (was_root_) REQUIRE(::seteuid(65534) == 0);
    }
    ~AsNobody() {
        if (was_root_) static_cast<void>(::seteuid(0));
    }
    AsNobody(const AsNobody&) = delete;
    AsNobody& operator=(const AsNobody&) = delete;

private:
    bool was_root_ = ::geteuid() == 0;
};

Outcome rises(const fs::path& folder) {
    return run_program(
        {"batch", folder.string(), "--recursive", "--ask", "day", "--date", "2026-02-17"});
}

}  // namespace

TEST_CASE("a folder that cannot be read is named, and all others are answered", "[cli]") {
    const ScratchFolder folder{"keyhour_unreadable"};
    const std::string place = example_text("tallow-lane");
    for (const char* name : {"a/one.toml", "lost+found/gone.toml", "m/lost+found/gone.toml",
                             "m/two.toml", "z/three.toml", "four.toml"})
        write(folder.path / name, place);
    for (const char* name : {"lost+found", "m/lost+found"})
        fs::permissions(folder.path / name, fs::perms::none);
    const Outcome outcome = [&] {
        const AsNobody nobody;
        return rises(folder.path);
    }();
    for (const char* name : {"lost+found", "m/lost+found"})
        fs::permissions(folder.path / name, fs::perms::owner_all);
    CHECK(outcome.code == 3);
    CHECK(std::count(outcome.out.begin(), outcome.out.end(), '\n') >= 2 + 4);
    for (const char* name : {"lost+found", "m/lost+found"})
        CHECK(holds(outcome.err, (folder.path / name).string() +
                                     ": the folder cannot be read: Permission denied\n"));
    CHECK(holds(outcome.err, "keyhour batch: 4 of 6 inputs answered, 2 refused\n"));
}

TEST_CASE("a pipe among the files of a folder is named, not waited for", "[cli]") {
    const ScratchFolder folder{"keyhour_fifo"};
    write(folder.path / "a.toml", example_text("tallow-lane"));
    const fs::path pipe = folder.path / "b.toml", lines = folder.path / "c.ndjson";
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    REQUIRE(::mkfifo(lines.c_str(), 0600) == 0);
    const std::string err = (folder.path / "err").string();
    const auto ended = [&](const std::vector<std::string>& words) {
        ChildFiles files;
        files.err = err;
        Child child{words, files};
        return child.wait_for(std::chrono::seconds{20});
    };
    CHECK(ended({"batch", folder.path.string(), "--ask", "day", "--date", "2026-02-17"}) == 3);
    CHECK(holds(contents(err), pipe.string() + ": this is no plain file"));
    CHECK(holds(contents(err), "1 of 2 inputs answered"));
    CHECK(ended({"check", pipe.string()}) == 1);
    CHECK(holds(contents(err), pipe.string() + ": this is no plain file"));
    CHECK(ended({"batch", lines.string(), "--date", "2026-02-17"}) == 3);
    CHECK(holds(contents(err), lines.string() + ": this is no plain file"));
    CHECK(ended({"sun", "--rows", lines.string()}) == 1);
    CHECK(holds(contents(err), lines.string() + ": this is no plain file"));
    CHECK(ended({"batch", (folder.path / "a.toml").string(), "--dates", lines.string()}) == 2);
    CHECK(holds(contents(err), lines.string()));
}

TEST_CASE("a pipe in place of a terrain tile is named, not waited for", "[cli]") {
    const ScratchFolder folder{"keyhour_fifo_tile"};
    const fs::path tile = folder.path / "N52W002.hgt";
    REQUIRE(::mkfifo(tile.c_str(), 0600) == 0);
    for (const std::string& terrain : {std::string{"."}, std::string{"N52W002.hgt"}}) {
        write(folder.path / "place.toml",
              "format = 1\n[site]\nposition = \"52.9536N 1.1505W\"\n"
              "time_zone = \"Europe/London\"\nelevation_m = 60\n"
              "horizon = { terrain = \"" +
                  terrain + "\" }\n");
        ChildFiles files;
        files.err = (folder.path / "err").string();
        Child child{{"check", (folder.path / "place.toml").string()}, files};
        CHECK(child.wait_for(std::chrono::seconds{20}) == 1);
        CAPTURE(contents(files.err));
        CHECK(holds(contents(files.err), "N52W002.hgt: this is no plain file"));
    }
}

TEST_CASE("a pipe that the user hands over is read", "[cli]") {
    const ScratchFolder folder{"keyhour_substitution"};
    const std::string out = (folder.path / "out").string();
    const std::string command = "bash -c '" KEYHOUR_PROGRAM " batch <(cat " +
                                example("tallow-lane") + ") --ask day --date 2026-02-17 >" + out +
                                "'";
    CHECK(std::system(command.c_str()) == 0);
    CHECK(holds(contents(out), "2026"));
}

TEST_CASE("one place's trouble ends no batch, and is told of that place", "[cli]") {
    const ScratchFolder folder{"keyhour_trouble"};
    const std::string place = example_text("tallow-lane");
    write(folder.path / "a.toml", place);
    write(folder.path / "b.toml",
          changed(place, "[site]\n", "[site]\nbuildings = \"houses.geojson\"\n"));
    write(folder.path / "houses.geojson",
          "{\"type\": \"FeatureCollection\", \"features\": [\n"
          "  {\"type\": \"Feature\", \"properties\": {\"height\": 1e999}, \"geometry\": null}]}\n");
    write(folder.path / "c.toml", place);
    const Outcome outcome = rises(folder.path);
    CHECK(outcome.code == 3);
    CHECK(holds(outcome.err, "b.toml: "));
    CHECK(holds(outcome.err, "houses.geojson:2:48: \"1e999\" is too large a number to be read"));
    CHECK(holds(outcome.err, "2 of 3 inputs answered, 1 refused"));
}

TEST_CASE("messages do not land in the output when the standard streams are closed", "[cli]") {
    const ScratchFolder folder{"keyhour_closed"};
    write(folder.path / "in" / "a.toml", example_text("tallow-lane"));
    write(folder.path / "in" / "b.toml", "format = 1\n");
    const auto out = folder.path / "out.csv";
    const auto run = [&](const std::string& closed) {
        fs::remove(out);
        const std::string command = KEYHOUR_PROGRAM " batch " + (folder.path / "in").string() +
                                    " --ask day --date 2026-02-17 --csv --out " + out.string() +
                                    closed;
        return WEXITSTATUS(std::system(command.c_str()));
    };
    REQUIRE(run(" 2>/dev/null") == 3);
    const std::string expected = contents(out);
    CHECK(run(" 0<&- >&- 2>&-") == 3);
    CHECK(contents(out) == expected);
    // An answer that nobody can get is not answered.
    CHECK(WEXITSTATUS(std::system(KEYHOUR_PROGRAM " --version >&- 2>/dev/null")) == 1);
}
