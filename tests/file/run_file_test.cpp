// A run's output survives a kill at any moment.

#include "file/run_file.hpp"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

using keyhour::file::RunFile;
using keyhour::file::RunProgress;

namespace {

struct Place {
    // Tests run side by side, a process each.
    std::string path = (std::filesystem::temp_directory_path() /
                        ("keyhour_run_file_" + std::to_string(getpid()) + ".txt"))
                           .string();
    std::string note = path + ".resume";
    Place() { clear(); }
    ~Place() { clear(); }
    Place(const Place&) = delete;
    Place& operator=(const Place&) = delete;
    void clear() const {
        std::filesystem::remove(path);
        std::filesystem::remove(note);
    }
};

std::string contents(const std::string& path) {
    std::ostringstream text;
    text << std::ifstream{path}.rdbuf();
    return text.str();
}

RunProgress after(std::uint64_t inputs) {
    return {inputs, 0, inputs, 0, inputs * 7};
}

constexpr std::uint64_t settings = 42;

RunFile opened(const std::string& path, RunFile::Start start) {
    auto file = RunFile::open(path, start, settings);
    REQUIRE(file);
    return *std::move(file);
}

}  // namespace

TEST_CASE("a finished run leaves its output alone", "[file]") {
    const Place place;
    {
        RunFile file = opened(place.path, RunFile::Start::fresh);
        REQUIRE(file.append("one\n", after(1)));
        REQUIRE(file.append("two\n", after(2)));
        REQUIRE(file.finish());
    }
    CHECK(contents(place.path) == "one\ntwo\n");
    CHECK_FALSE(std::filesystem::exists(place.note));
    CHECK(opened(place.path, RunFile::Start::go_on).was_finished());
}

TEST_CASE("what follows the last whole note is cut off and asked for again", "[file]") {
    const Place place;
    {
        RunFile file = opened(place.path, RunFile::Start::go_on);
        CHECK(file.kept().inputs == 0);
        REQUIRE(file.append("one\n", after(1)));
        REQUIRE(file.write_out());
        REQUIRE(file.append("two\n", after(2)));
        REQUIRE(file.write_out());
    }
    const std::string note = contents(place.note);
    // A kill may tear the note at any byte, and leave more output than it tells of.
    for (std::size_t cut = 0; cut <= note.size(); ++cut) {
        std::ofstream{place.path} << "one\ntwo\nthr";
        std::ofstream{place.note} << note.substr(0, cut);
        RunFile file = opened(place.path, RunFile::Start::go_on);
        const std::uint64_t kept = file.kept().inputs;
        CHECK(kept == (cut == note.size() ? 2U : kept));
        CHECK(file.kept().digest == kept * 7);
        for (std::uint64_t i = kept; i < 3; ++i)
            REQUIRE(file.append(i == 0 ? "one\n" : i == 1 ? "two\n" : "three\n", after(i + 1)));
        REQUIRE(file.finish());
        CHECK(contents(place.path) == "one\ntwo\nthree\n");
    }
    // Less output than the note tells of: the last note that is covered counts.
    std::ofstream{place.path} << "one\nt";
    std::ofstream{place.note} << note;
    CHECK(opened(place.path, RunFile::Start::go_on).kept().inputs == 1);
}

TEST_CASE("a run is gone on with by the same question only, and by one at a time", "[file]") {
    const Place place;
    RunFile file = opened(place.path, RunFile::Start::fresh);
    REQUIRE(file.append("one\n", after(1)));
    REQUIRE(file.write_out());
    CHECK(RunFile::open(place.path, RunFile::Start::go_on, settings)
              .error()
              .find("another run is writing it") != std::string::npos);
    { const RunFile closed = std::move(file); }
    CHECK(RunFile::open(place.path, RunFile::Start::fresh, settings).error().find("--resume") !=
          std::string::npos);
    CHECK(RunFile::open(place.path, RunFile::Start::go_on, settings + 1)
              .error()
              .find("was begun with other dates, criteria or form") != std::string::npos);
    CHECK(opened(place.path, RunFile::Start::go_on).kept().inputs == 1);
}

TEST_CASE("a full disk is told and what is kept is known", "[file]") {
    if (!std::filesystem::exists("/dev/full")) return;
    RunFile file = opened("/dev/full", RunFile::Start::fresh);
    CHECK((file.append(std::string(1 << 20, 'x'), after(1)) && file.write_out()) == false);
    CHECK(file.error() == "No space left on device");
    CHECK(file.kept().inputs == 0);
    CHECK_FALSE(RunFile::open("/nowhere/at/all", RunFile::Start::fresh, settings));
}
