#include <sys/resource.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "page.hpp"
#include "run_program.hpp"
#include "scratch_file.hpp"
#include "scratch_folder.hpp"

namespace fs = std::filesystem;

namespace {

std::string bytes(const fs::path& path) {
    std::ifstream in{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, {}};
}

std::size_t count_of(const std::string& text, char c) {
    return static_cast<std::size_t>(std::count(text.begin(), text.end(), c));
}

}  // namespace

TEST_CASE("sheet writes its drawings, and the same ones again", "[cli]") {
    const ScratchFolder folder{"keyhour_sheet"};
    const std::string out = (folder.path / "new" / "sheet").string();
    const std::vector<std::string> ask{
        "sheet", example("tallow-lane"), "--date", "2026-02-14", "--out", out};
    const Outcome first = run_program(ask);
    CAPTURE(first.err);
    REQUIRE(first.code == 0);
    std::vector<std::string> before;
    for (const char* name :
         {"plan.svg", "section-press-window-type-case.svg", "section-case-window-type-case.svg",
          "strip.svg", "year-type-case.svg"}) {
        CAPTURE(name);
        CHECK(holds(first.out, name));
        before.push_back(bytes(fs::path{out} / name));
        CHECK(holds(before.back(), "</svg>"));
    }
    REQUIRE(run_program(ask).code == 0);  // what keyhour wrote it replaces
    CHECK(bytes(fs::path{out} / "plan.svg") == before.front());
    CHECK(std::distance(fs::directory_iterator{out}, fs::directory_iterator{}) == 9);
}

namespace {

/// So many files may be open at once, while this lives.
class OpenFiles {
public:
    explicit OpenFiles(rlim_t most) {
        REQUIRE(::getrlimit(RLIMIT_NOFILE, &before_) == 0);
        rlimit fewer = before_;
        fewer.rlim_cur = most;
        REQUIRE(::setrlimit(RLIMIT_NOFILE, &fewer) == 0);
    }
    ~OpenFiles() { ::setrlimit(RLIMIT_NOFILE, &before_); }
    OpenFiles(const OpenFiles&) = delete;
    OpenFiles& operator=(const OpenFiles&) = delete;

private:
    rlimit before_{};
};

}  // namespace

TEST_CASE("a folder may hold more files than can be open at once", "[cli]") {
    const ScratchFolder folder{"keyhour_many_files"};
    const OpenFiles few{40};
    const Outcome out = run_program({"sheet", example("tallow-lane"), "--from", "2026-02-01",
                                     "--to", "2026-02-14", "--only", "section", "--only", "strip",
                                     "--only", "plan", "--out", folder.path.string()});
    CAPTURE(out.err);
    CHECK(out.code == 0);
    CHECK(std::distance(fs::directory_iterator{folder.path}, fs::directory_iterator{}) > 40);
}

TEST_CASE("sheet leaves a stranger's file alone unless forced, and then writes nothing else",
          "[cli]") {
    const ScratchFolder folder{"keyhour_stranger"};
    std::ofstream{folder.path / "strip.svg"} << "mine";
    std::vector<std::string> ask{"sheet",      example("sundet"), "--date",
                                 "2026-02-14", "--out",           folder.path.string()};
    const Outcome refused = run_program(ask);
    CHECK(refused.code == 1);
    CHECK(holds(refused.err, "--force"));
    CHECK(bytes(folder.path / "strip.svg") == "mine");
    CHECK_FALSE(fs::exists(folder.path / "plan.svg"));
    ask.push_back("--force");
    CHECK(run_program(ask).code == 0);
    CHECK(holds(bytes(folder.path / "strip.svg"), "</svg>"));
}

TEST_CASE("a disk that is full is said, and nothing is left beside", "[cli]") {
    if (!fs::exists("/dev/full")) return;
    const ScratchFolder folder{"keyhour_full"};
    fs::create_symlink("/dev/full", folder.path / "strip.svg");
    const Outcome o = run_program(
        {"sheet", example("sundet"), "--date", "2026-02-14", "--out", folder.path.string()});
    CHECK(o.code == 1);
    CHECK(holds(o.err, "strip.svg: cannot be written: No space left on device"));
    CHECK(std::distance(fs::directory_iterator{folder.path}, fs::directory_iterator{}) == 1);
}

TEST_CASE("one drawing goes to standard output", "[cli]") {
    const Outcome o = run_program({"sheet", example("mill-green/mill-green"), "--date",
                                   "2026-06-21", "--only", "strip", "-o", "-"});
    CAPTURE(o.err);
    CHECK(o.code == 0);
    CHECK(o.out.starts_with("<?xml"));
    CHECK(o.out.ends_with("</svg>\n"));
}

TEST_CASE("over a range the day's drawings carry their date", "[cli]") {
    const ScratchFolder folder{"keyhour_range"};
    const Outcome o =
        run_program({"sheet", example("tallow-lane"), "--from", "2026-03-28", "--to", "2026-03-29",
                     "--only", "plan", "--only", "strip", "--out", folder.path.string()});
    CAPTURE(o.err);
    CHECK(o.code == 0);
    CHECK(fs::exists(folder.path / "plan-2026-03-28.svg"));
    CHECK_FALSE(holds(bytes(folder.path / "strip-2026-03-28.svg"), "CLOCKS CHANGE"));
    CHECK(holds(bytes(folder.path / "strip-2026-03-29.svg"), "CLOCKS CHANGE"));
}

TEST_CASE("sheet says what it cannot do", "[cli]") {
    const std::string place = example("tallow-lane");
    const auto fails = [&](std::vector<std::string> more, const char* said) {
        more.insert(more.begin(), {"sheet", place, "--date", "2026-03-10"});
        const Outcome o = run_program(more);
        CAPTURE(o.err);
        CHECK(o.code == 2);
        CHECK(holds(o.err, said));
        CHECK(o.out.empty());
    };
    fails({}, "--out FOLDER");
    fails({"--out", "a", "-o", "b"}, "one of them");
    fails({"-o", "-"}, "--only");
    fails({"-o", "-", "--only", "chart"}, "plan, section, strip, year");
    fails({"-o", "-", "--window", "pres window"}, "did you mean \"press window\"?");
    fails({"-o", "-", "--hours", "9"}, "--hours");
    fails({"-o", "-", "--hours", "09:00,10:00,11:00,12:00,13:00,14:00,15:00"}, "6 hatches");
    fails({"-o", "-", "--width", "20"}, "92 to 1000");
}

TEST_CASE("plan and strip are drawn in 80 columns of ASCII", "[cli]") {
    for (const char* name : {"tallow-lane", "flax-road", "sundet"})
        for (const char* command : {"patch", "key"}) {
            const Outcome o =
                run_program({command, example(name), "--date", "2026-03-10", "--draw", "--ascii"});
            CAPTURE(name, command, o.err, o.out);
            CHECK(o.code == 0);
            CHECK(too_long(o.out) == std::vector<std::string>{});
            CHECK(std::all_of(o.out.begin(), o.out.end(),
                              [](char c) { return c == '\n' || (c >= ' ' && c < 0x7F); }));
            CHECK(holds(o.out, " at any bearing"));
            CHECK(holds(o.out, "true north lies"));
        }
    CHECK(run_program({"patch", example("sundet"), "--date", "2026-03-10", "--draw", "--json"})
              .code == 2);
    CHECK(run_program(
              {"key", example("sundet"), "--from", "2026-03-10", "--to", "2026-03-12", "--draw"})
              .code == 2);
}

TEST_CASE("the drawn patch in characters is as large as the answer's", "[cli]") {
    const std::vector<std::string> ask{
        "patch", example("tallow-lane"), "--date", "2026-02-14", "--time", "13:00"};
    auto with = [&](const char* a, const char* b) {
        auto all = ask;
        all.push_back(a);
        if (*b != '\0') all.push_back(b);
        return run_program(all).out;
    };
    const auto json = nlohmann::json::parse(with("--json", ""));
    double floor_m2 = 0;
    for (const auto& p : json["instants"][0]["patches"])
        if (p["surface"] == "floor") floor_m2 += p["area_m2"].get<double>();
    const std::string drawn = with("--draw", "--ascii");
    // A character of the drawing is 7.2 m / 76 wide and twice as tall.
    const std::string plan =
        drawn.substr(drawn.find("####"), drawn.rfind("sun at") - drawn.find("####"));
    const double cell = 7.2 / 76;
    const double drawn_m2 = static_cast<double>(count_of(plan, '1')) * 2 * cell * cell;
    CAPTURE(drawn, floor_m2, drawn_m2);
    REQUIRE(floor_m2 > 1);
    CHECK(drawn_m2 > 0.8 * floor_m2);
    CHECK(drawn_m2 < 1.5 * floor_m2 + 1.6);  // the table's top receives light too
}

TEST_CASE("long names of window and mark are shortened in names of files, and stay apart",
          "[cli]") {
    const ScratchFolder folder{"keyhour_long_names"};
    const std::string long_name(180, 'w');
    std::string text = example_text("tallow-lane");
    for (const char* name : {"press window", "type case"})
        for (std::size_t at = 0; (at = text.find(name, at)) != std::string::npos;) {
            text.insert(at, long_name);
            at += long_name.size() + 1;
        }
    const ScratchFile file{"keyhour_long_names.toml", text};
    const fs::path out = folder.path / "out";
    const Outcome outcome = run_program({"sheet", file.path, "--date", "2026-03-10", "--only",
                                         "section", "--only", "year", "--out", out.string()});
    CAPTURE(outcome.err);
    REQUIRE(outcome.code == 0);
    const std::string word(60, 'w');
    CHECK(fs::exists(out / ("section-" + word + "-" + word + ".svg")));
    CHECK(fs::exists(out / ("year-" + word + ".svg")));
}

TEST_CASE("a limit of file sizes is said, and leaves nothing unfinished behind", "[cli]") {
    const ScratchFolder folder{"keyhour_limit"};
    const std::string err = (folder.path / "err").string(), out = (folder.path / "out").string();
    const std::string command =
        "bash -c 'ulimit -f 8; exec " KEYHOUR_PROGRAM " sheet " + example("tallow-lane") +
        " --date 2026-03-10 --only page --only calendar --out " + out + "' 2>" + err;
    CHECK(WEXITSTATUS(std::system(command.c_str())) == 1);
    CHECK(holds(bytes(err), "sheet.html: cannot be written: File too large"));
    CHECK(fs::is_empty(out));
}
