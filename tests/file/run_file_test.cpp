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
    // The note is gone: all is asked for again and compared, nothing is added.
    RunFile again = opened(place.path, RunFile::Start::go_on);
    CHECK(again.has_lost_note());
    REQUIRE(again.append("one\ntwo\n", after(2)));
    REQUIRE(again.finish());
    CHECK(again.was_whole());
    CHECK(contents(place.path) == "one\ntwo\n");
    CHECK_FALSE(std::filesystem::exists(place.note));
}

TEST_CASE("what is there without a note is added to, or left alone", "[file]") {
    const Place place;
    std::ofstream{place.path} << "one\nt";
    {
        RunFile file = opened(place.path, RunFile::Start::go_on);
        CHECK(file.has_lost_note());
        REQUIRE(file.append("one\n", after(1)));
        REQUIRE(file.append("two\n", after(2)));
        REQUIRE(file.finish());
        CHECK_FALSE(file.was_whole());
    }
    CHECK(contents(place.path) == "one\ntwo\n");
    for (const char* other : {"one\ntwo\nmy own notes\n", "one\nmy own notes\n", "my notes"}) {
        std::ofstream{place.path} << other;
        {
            RunFile file = opened(place.path, RunFile::Start::go_on);
            const bool wrote = file.append("one\n", after(1)) && file.write_out() &&
                               file.append("two\n", after(2)) && file.finish();
            CHECK_FALSE(wrote);
            CHECK(file.holds_other());
        }
        CHECK(contents(place.path) == other);
        CHECK_FALSE(std::filesystem::exists(place.note));
    }
}

TEST_CASE("a run's output is locked under all its names, and forced only when nobody writes it",
          "[file]") {
    const Place place;
    const std::string link = place.path + ".link", second = place.path + ".hard";
    RunFile file = opened(place.path, RunFile::Start::fresh);
    REQUIRE(file.append("one\n", after(1)));
    REQUIRE(file.write_out());
    std::filesystem::create_symlink(place.path, link);
    std::filesystem::create_hard_link(place.path, second);
    for (const std::string& name : {place.path, link, second})
        for (const auto start :
             {RunFile::Start::fresh, RunFile::Start::go_on, RunFile::Start::over_all})
            CHECK(RunFile::open(name, start, settings).error() ==
                  name + ": another run is writing it");
    std::filesystem::remove(second);
    { const RunFile killed = std::move(file); }
    CHECK(RunFile::open(link, RunFile::Start::fresh, settings).error().find("--resume") !=
          std::string::npos);
    CHECK(opened(link, RunFile::Start::go_on).kept().inputs == 1);
    RunFile anew = opened(place.path, RunFile::Start::over_all);
    CHECK(anew.kept().inputs == 0);
    REQUIRE(anew.finish());
    CHECK(contents(place.path).empty());
    std::filesystem::remove(link);
}

TEST_CASE("what follows the last whole note is cut off and asked for again", "[file]") {
    const Place place;
    std::size_t first_note = 0;  // bytes, whole
    {
        RunFile file = opened(place.path, RunFile::Start::go_on);
        CHECK(file.kept().inputs == 0);
        REQUIRE(file.append("one\n", after(1)));
        REQUIRE(file.write_out());
        first_note = contents(place.note).size();
        REQUIRE(file.append("two\n", after(2)));
        REQUIRE(file.write_out());
    }
    const std::string note = contents(place.note);
    REQUIRE(first_note > 0);
    REQUIRE(note.size() > first_note);
    // A kill may tear the note at any byte, and leave more output than it tells of.
    for (std::size_t cut = 0; cut <= note.size(); ++cut) {
        std::ofstream{place.path} << "one\ntwo\nthr";
        std::ofstream{place.note} << note.substr(0, cut);
        RunFile file = opened(place.path, RunFile::Start::go_on);
        const std::uint64_t kept = file.kept().inputs;
        CHECK(kept == (cut == note.size() ? 2U : cut >= first_note ? 1U : 0U));
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
