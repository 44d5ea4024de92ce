// What an output may take the place of.

#include "cli/own_output.hpp"

#include <sys/stat.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "json_places.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "scratch_file.hpp"
#include "scratch_folder.hpp"

namespace fs = std::filesystem;
using keyhour::cli::is_own_output;

namespace {

void write(const fs::path& path, const std::string& text) {
    std::ofstream{path, std::ios::binary} << text;
}

std::string contents(const fs::path& path) {
    std::ostringstream text;
    text << std::ifstream{path, std::ios::binary}.rdbuf();
    return text.str();
}

using Words = std::vector<std::string>;

Outcome batch(const std::string& places, const std::string& out, const Words& more = {}) {
    Words words{"batch", places, "--dates", "2026-02-17,2026-02-18", "--out", out};
    words.insert(words.end(), more.begin(), more.end());
    return run_program(words);
}

}  // namespace

namespace {

const std::vector<Words> forms{{},
                               {"--csv"},
                               {"--json"},
                               {"--compare"},
                               {"--compare", "--csv"},
                               {"--compare", "--json"},
                               {"--best", "2"},
                               {"--best", "2", "--csv"},
                               {"--best", "2", "--json"},
                               {"--ask", "day"},
                               {"--ask", "day", "--csv"},
                               {"--ask", "lock"},
                               {"--ask", "lock", "--csv"},
                               {"--ask", "lock", "--json"},
                               {"--ask", "lock", "--compare"},
                               {"--ask", "lock", "--best", "2"},
                               {"--ask", "lock", "--best", "2", "--csv"},
                               {"--visit", "--speed-kmh", "40", "--min-hold", "20"},
                               {"--visit", "--speed-kmh", "40", "--min-hold", "20", "--csv"},
                               {"--visit", "--speed-kmh", "40", "--min-hold", "20", "--json"}};

}  // namespace

TEST_CASE("every output of batch is known as keyhour's own, whole and unchanged only", "[cli]") {
    const ScratchFolder folder{"keyhour_own"};
    const std::string places = (folder.path / "places.ndjson").string();
    write(places, json_place("A", 180) + json_place("B", 190) + json_place("C", 150));
    const std::string out = (folder.path / "out").string();
    for (const Words& form : forms) {
        CAPTURE(form);
        fs::remove(out);
        REQUIRE(batch(places, out, form).code == 0);
        const std::string text = contents(out);
        REQUIRE_FALSE(text.empty());
        CHECK(is_own_output(out));
        CHECK(batch(places, out, form).code == 0);
        CHECK(contents(out) == text);
        // Somebody's words below or above: no longer keyhour's alone.
        for (const std::string& changed : {text + "call the caretaker\n", "notes\n" + text}) {
            write(out, changed);
            CHECK_FALSE(is_own_output(out));
            const Outcome refused = batch(places, out, form);
            CHECK(refused.code == 1);
            CHECK(refused.err ==
                  out + ": is there and was not written by keyhour; --force overwrites it\n");
            CHECK(contents(out) == changed);
        }
        CHECK(batch(places, out,
                    [&] {
                        Words forced = form;
                        forced.emplace_back("--force");
                        return forced;
                    }())
                  .code == 0);
        CHECK(contents(out) == text);
    }
}

TEST_CASE("the sheet's files are known as keyhour's own, others that speak of it are not",
          "[cli]") {
    const ScratchFolder folder{"keyhour_own_sheet"};
    const std::string out = (folder.path / "sheet").string();
    REQUIRE(
        run_program({"sheet", example("tallow-lane"), "--date", "2026-03-10", "--out", out}).code ==
        0);
    for (const auto& entry : fs::directory_iterator{out}) {
        CAPTURE(entry.path().filename().string());
        CHECK(is_own_output(entry.path().string()));
    }
    const fs::path notes = folder.path / "notes.txt";
    for (const char* text :
         {"my keyhour light sheet, with notes\n", "location,source,from,to\n1,2,3,4\n",
          "{\"keyhour\":\"is a program\"}\n", "{\"source\":\"keyhour light sheet 1\"}\n",
          "%PDF-1.4 mine\nkeyhour light sheet", "\n", " "}) {
        write(notes, text);
        CAPTURE(text);
        CHECK_FALSE(is_own_output(notes.string()));
    }
    write(notes, "");  // nothing to lose
    CHECK(is_own_output(notes.string()));
}

TEST_CASE("an output that is one of the inputs is refused, whatever its name and the force",
          "[cli]") {
    const ScratchFolder folder{"keyhour_input"};
    const fs::path in = folder.path / "in";
    fs::create_directories(in / "deep");
    const std::string place = (in / "a.toml").string(), text = example_text("tallow-lane");
    write(place, text);
    write(in / "deep" / "b.toml", text);
    fs::create_symlink(place, folder.path / "link");
    fs::create_hard_link(place, folder.path / "hard");
    fs::create_hard_link(in / "deep" / "b.toml", folder.path / "deep");
    write(folder.path / "dates", "2026-02-17\n");
    const auto told = [](const std::string& out) {
        return out + ": is one of the inputs, which an output never replaces; give another name\n";
    };
    const std::string around = (in / ".." / "in" / "a.toml").string();
    for (const Words& mode : {Words{}, Words{"--best", "1"}, Words{"--compare"}, Words{"--resume"}})
        for (const bool force : {false, true})
            for (const std::string& out :
                 {place, around, (folder.path / "link").string(), (folder.path / "hard").string(),
                  (folder.path / "deep").string()}) {
                if (force && mode == Words{"--resume"}) continue;
                Words more = mode;
                more.emplace_back("--recursive");
                if (force) more.emplace_back("--force");
                const Outcome outcome = batch(in.string(), out, more);
                CAPTURE(mode, out, outcome.err);
                CHECK(outcome.code == 2);
                CHECK(outcome.err == told(out));
                CHECK(contents(out) == text);
            }
    // What would be met on the walk is refused before it is there.
    const std::string met = (in / "deep" / "out.toml").string();
    CHECK(batch(in.string(), met, {"--recursive"}).err == told(met));
    CHECK_FALSE(fs::exists(met));
    CHECK(batch(place, (folder.path / "out").string()).code == 0);
    const std::string dates = (folder.path / "dates").string();
    CHECK(run_program({"batch", place, "--dates", dates, "--out", dates, "--force"}).err ==
          told(dates));
    // The same for a file that the location names, and for the sheet.
    const std::string skyline = (folder.path / "skyline.csv").string();
    const std::string survey = "bearing_deg,altitude_deg\n90,4\n270,6\n";
    write(skyline, survey);
    write(place, changed(text, "[site]\n", "[site]\nbuildings = \"../skyline.csv\"\n"));
    CHECK(batch(place, skyline, {"--force"}).err == told(skyline));
    CHECK(contents(skyline) == survey);
    write(place, text);
    for (const std::string& out :
         {place, around, (folder.path / "link").string(), (folder.path / "hard").string()}) {
        CHECK(run_program(
                  {"sheet", place, "--date", "2026-03-10", "--only", "plan", "-o", out, "--force"})
                  .err == told(out));
        CHECK(contents(out) == text);
    }
}

TEST_CASE("what stands in the output's way is told before anything is computed", "[cli]") {
    const ScratchFolder folder{"keyhour_way"};
    const std::string place = example("tallow-lane"), missing = (folder.path / "no" / "x").string();
    // A century of days would take its time.
    const Words long_ask{"batch", place, "--from", "1900-01-01", "--to", "1999-12-31", "--out"};
    const auto batch_to = [&](const std::string& out, const Words& more = {}) {
        Words words = long_ask;
        words.push_back(out);
        words.insert(words.end(), more.begin(), more.end());
        return run_program(words);
    };
    for (const Words& mode : {Words{}, Words{"--best", "1"}}) {
        CHECK(batch_to(folder.path.string(), mode).err ==
              folder.path.string() + ": cannot be written: it is a folder\n");
        CHECK(batch_to(missing, mode).err ==
              missing + ": cannot be written: No such file or directory\n");
    }
    const auto sheet_to = [&](const char* option, const std::string& out) {
        return run_program({"sheet", place, "--date", "2026-03-10", "--only", "plan", option, out});
    };
    CHECK(sheet_to("-o", folder.path.string()).err ==
          folder.path.string() + ": cannot be written: it is a folder\n");
    CHECK(sheet_to("-o", missing).err ==
          missing + ": cannot be written: No such file or directory\n");
    const std::string notes = (folder.path / "notes").string();
    write(notes, "mine\n");
    CHECK(sheet_to("--out", notes).err == notes + ": cannot be written: it is no folder\n");
    fs::create_directories(folder.path / "sheet");
    const fs::path pipe = folder.path / "sheet" / "plan.svg";
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    CHECK(sheet_to("--out", (folder.path / "sheet").string()).err ==
          pipe.string() + ": cannot be written: it is no plain file\n");
    CHECK(contents(notes) == "mine\n");
}
