// keyhour batch as a process: killed and gone on with, interrupted, before a full disk or a closed
// pipe.

#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>

#include "child.hpp"
#include "json_places.hpp"
#include "page.hpp"
#include "scratch_folder.hpp"
#include "support/dice.hpp"

namespace {

using std::chrono::milliseconds;

std::string contents(const std::filesystem::path& path) {
    std::ostringstream text;
    text << std::ifstream{path, std::ios::binary}.rdbuf();
    return text.str();
}

void write(const std::filesystem::path& path, const std::string& text) {
    std::ofstream{path, std::ios::binary} << text;
}

struct Pipe {
    int ends[2] = {-1, -1};
    Pipe() {
        REQUIRE(::pipe(ends) == 0);
        for (const int end : ends)  // a child keeps only what it is given
            ::fcntl(end, F_SETFD, FD_CLOEXEC);
    }
    ~Pipe() {
        close_end(0);
        close_end(1);
    }
    Pipe(const Pipe&) = delete;
    Pipe& operator=(const Pipe&) = delete;
    void close_end(int i) {
        if (ends[i] >= 0) ::close(ends[i]);
        ends[i] = -1;
    }
};

constexpr milliseconds patience{20'000};  // for a loaded machine and the sanitizers

/// Waits until a run's output has grown to so many bytes. @return  no: the run ended before
bool grows_to(Child& child, const std::filesystem::path& out, std::uintmax_t bytes) {
    for (;;) {
        std::error_code none;
        const auto size = std::filesystem::file_size(out, none);
        if ((none ? 0 : size) >= bytes) return true;
        if (child.wait_for(milliseconds{1})) return false;
    }
}

}  // namespace

TEST_CASE("killed at random places 50 times and gone on with, the output is that of one run",
          "[cli]") {
    const ScratchFolder folder{"keyhour_killed"};
    std::string input = many_json_places(600);
    input.insert(input.find('\n') + 1, "{\"format\": 1}\n");  // a refused one among them
    const std::string places = (folder.path / "places.ndjson").string();
    write(places, input);
    keyhour::test::Dice dice{50};
    int kills = 0, completed = 0;
    for (const char* form : {"--json", "--csv"}) {
        const std::string out = (folder.path / "out").string();
        const std::vector<std::string> command{
            "batch", places, form, "--dates", "2026-02-17,2026-02-18", "--out", out, "--resume"};
        REQUIRE(Child(command, {}).wait() == 3);
        const std::string expected = contents(out);
        std::filesystem::remove(out);
        const int wanted = kills + 25;
        while (kills < wanted || std::filesystem::exists(out + ".resume")) {
            Child child{command, {}};
            if (kills < wanted) {
                // Whatever the machine's load, a kill comes after some more of the answers.
                std::error_code none;
                const auto kept = std::filesystem::file_size(out, none);
                const auto more = dice.between(0, 0.4) * static_cast<double>(expected.size());
                if (grows_to(child, out, (none ? 0 : kept) + static_cast<std::uintmax_t>(more))) {
                    child.send(SIGKILL);
                    kills += child.wait() == 128 + SIGKILL;
                }
            } else {
                REQUIRE(child.wait() == 3);
            }
            if (std::filesystem::exists(out + ".resume")) continue;
            if (!std::filesystem::exists(out)) continue;  // killed before it began
            REQUIRE(contents(out) == expected);
            std::filesystem::remove(out);
            ++completed;
        }
    }
    CHECK(kills == 50);
    CHECK(completed >= 2);
}

namespace {

/// A run over six places, and what it writes into a folder of its own.
struct SixPlaces {
    ScratchFolder folder;
    std::string places, out, err;
    std::string input = many_json_places(6);
    std::vector<std::string> command;

    explicit SixPlaces(const char* name)
        : folder{name},
          places{(folder.path / "places.ndjson").string()},
          out{(folder.path / "out.json").string()},
          err{(folder.path / "err").string()},
          command{"batch", "-", "--json", "--date", "2026-02-17", "--out", out, "--resume"} {}

    /// Some lines, then a wait for more: the run is interrupted there.
    void interrupt() const {
        Pipe pipe;
        ChildFiles files;
        files.in_pipe = pipe.ends[0];
        files.err = err;
        Child child{command, files};
        const std::size_t half = input.find("Room 3");
        const std::string begun = input.substr(0, input.rfind('\n', half) + 1);
        REQUIRE(::write(pipe.ends[1], begun.data(), begun.size()) ==
                static_cast<ssize_t>(begun.size()));
        for (int i = 0; i < 5000 && contents(out).find("Room 2") == std::string::npos; ++i) {
            // What is answered is written out with the next answer, or at the end.
            if (contents(out + ".resume").find('\n') != std::string::npos && i > 1000) break;
            std::this_thread::sleep_for(milliseconds{2});
        }
        child.send(SIGINT);
        REQUIRE(child.wait_for(patience) == 128 + SIGINT);
        CHECK(holds(contents(err), "stopped by a signal; " + out + " keeps "));
    }

    /// @return its exit code
    [[nodiscard]] int go_on(const std::string& text, const std::vector<std::string>& words) const {
        write(places, text);
        ChildFiles files;
        files.in = places;
        files.err = err;
        return Child(words, files).wait();
    }
    [[nodiscard]] std::vector<std::string> without_resume() const {
        return {command.begin(), command.end() - 1};
    }
};

}  // namespace

TEST_CASE("a changed list of places or another question is not gone on with", "[cli]") {
    const SixPlaces run{"keyhour_changed"};
    run.interrupt();
    REQUIRE(holds(contents(run.out), "Room 0"));
    std::string moved = run.input;
    moved.replace(moved.find("Room 0"), 6, "Loft 0");
    CHECK(run.go_on(moved, run.command) == 1);
    CHECK(holds(contents(run.err), "the places are not those with which"));
    CHECK(run.go_on(run.input.substr(0, run.input.find('\n') / 2), run.command) == 1);
    std::vector<std::string> other = run.command;
    other[4] = "2026-02-18";
    CHECK(run.go_on(run.input, other) == 1);
    CHECK(holds(contents(run.err), "was begun with other dates"));
    CHECK(run.go_on(run.input, run.without_resume()) == 1);
    CHECK(holds(contents(run.err), "--resume goes on with it"));
    CHECK(run.go_on(run.input, run.command) == 0);
    const std::string resumed = contents(run.out);
    std::filesystem::remove(run.out);
    CHECK(run.go_on(run.input, run.without_resume()) == 0);
    CHECK(resumed == contents(run.out));
}

TEST_CASE("a finished run is left alone, and found whole or mended", "[cli]") {
    const SixPlaces run{"keyhour_finished"};
    const std::string &out = run.out, &err = run.err;
    REQUIRE(run.go_on(run.input, run.without_resume()) == 0);
    const std::string whole = contents(out);
    CHECK(run.go_on(run.input, run.command) == 0);
    CHECK(holds(contents(err), "the run is finished, or the note is lost"));
    CHECK(holds(contents(err), out + " was whole already: nothing was added"));
    CHECK(whole == contents(out));
    // One that is not whole is not passed off as finished.
    write(out, whole.substr(0, whole.size() / 3));
    CHECK(run.go_on(run.input, run.command) == 0);
    CHECK(holds(contents(err), out + " was not whole: what was missing is added"));
    CHECK(whole == contents(out));
    write(out, whole + "{\"keyhour\":\"my notes\",\"question\":\"\"}\n");
    CHECK(run.go_on(run.input, run.command) == 1);
    CHECK(holds(contents(err), "holds something else than this question answers now"));
    CHECK(contents(out) == whole + "{\"keyhour\":\"my notes\",\"question\":\"\"}\n");
}

TEST_CASE("a full disk and a closed pipe end the run at once, and it says what is kept", "[cli]") {
    const ScratchFolder folder{"keyhour_full"};
    const std::string places = (folder.path / "places.ndjson").string();
    const std::string err = (folder.path / "err").string();
    write(places, many_json_places(300));
    const std::vector<std::string> command{"batch",      places, "--json",    "--from",
                                           "2026-02-17", "--to", "2026-02-26"};
    ChildFiles files;
    files.err = err;
    if (std::filesystem::exists("/dev/full")) {
        files.out = "/dev/full";
        CHECK(Child(command, files).wait() == 1);
        CHECK(holds(contents(err), "the output takes no more; "));
        CHECK(holds(contents(err), "No space left on device"));
        CHECK_FALSE(holds(contents(err), "; 300 inputs"));
        std::vector<std::string> into = command;
        into.insert(into.end(), {"--out", "/dev/full"});
        CHECK(Child(into, files).wait() == 1);
        CHECK(holds(contents(err), "No space left on device; /dev/full keeps 0 lines"));
    }
    Pipe pipe;
    files.out_pipe = pipe.ends[1];
    Child child{command, files};
    pipe.close_end(1);
    char some[64];
    REQUIRE(::read(pipe.ends[0], some, sizeof some) > 0);
    pipe.close_end(0);
    CHECK(child.wait_for(patience) == 0);  // as for head: a reader that has seen enough is no error
    CHECK(holds(contents(err), "the output takes no more; "));
    CHECK_FALSE(holds(contents(err), "; 300 inputs"));
}

TEST_CASE("a reader that stops early changes no exit code", "[cli]") {
    const ScratchFolder folder{"keyhour_head"};
    const std::string places = (folder.path / "places.ndjson").string();
    for (const int n : {3, 300})  // all in one write; cut off by the closed pipe
        for (const bool refused : {false, true}) {
            std::string input = many_json_places(n);
            if (refused) input = "{\"format\": 1}\n" + input;
            write(places, input);
            const std::string command = "bash -c '" KEYHOUR_PROGRAM " batch " + places +
                                        " --json --date 2026-02-17 2>/dev/null | head -1 "
                                        ">/dev/null; exit ${PIPESTATUS[0]}'";
            CHECK(WEXITSTATUS(std::system(command.c_str())) == (refused ? 3 : 0));
        }
}

TEST_CASE("a live run's output is left alone in every mode, whatever the force", "[cli]") {
    const ScratchFolder folder{"keyhour_live"};
    const std::string out = (folder.path / "out.json").string();
    const std::string err = (folder.path / "err").string();
    const std::string places = (folder.path / "places.ndjson").string();
    write(places, many_json_places(2));
    Pipe pipe;
    ChildFiles files;
    files.in_pipe = pipe.ends[0];
    Child live{{"batch", "-", "--json", "--date", "2026-02-17", "--out", out}, files};
    const std::string input = many_json_places(2);
    REQUIRE(::write(pipe.ends[1], input.data(), input.size()) ==
            static_cast<ssize_t>(input.size()));
    for (int i = 0; i < 5000 && contents(out + ".resume").empty(); ++i)
        std::this_thread::sleep_for(milliseconds{2});
    const std::vector<std::vector<std::string>> others{
        {},
        {"--resume"},
        {"--force"},
        {"--best", "3"},
        {"--best", "3", "--force"},
        {"--compare"},
        {"--visit", "--speed-kmh", "30", "--min-hold", "20", "--force"}};
    for (const auto& more : others) {
        std::vector<std::string> words{"batch",      places,  "--json", "--date",
                                       "2026-02-17", "--out", out};
        words.insert(words.end(), more.begin(), more.end());
        ChildFiles own;
        own.err = err;
        CHECK(Child(words, own).wait() == 1);
        CHECK(contents(err) == out + ": another run is writing it\n");
    }
    pipe.close_end(1);
    CHECK(live.wait_for(patience) == 0);
    const std::string answers = contents(out);
    CHECK(std::count(answers.begin(), answers.end(), '\n') == 2);
}
