// Plan and strip in characters, on terminals of several widths.

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "cli/app.hpp"
#include "cli/terminal.hpp"
#include "page.hpp"
#include "run_program.hpp"
#include "scratch_file.hpp"
#include "scratch_folder.hpp"

namespace {

constexpr const char* wide_name = "机の前の人物";  // six letters of two columns each
constexpr const char* accented_name = "fene\u0302tre e\u0301troite";

/// A hall of 48 m with twelve windows, long names, letters of two columns and of none.
std::string hall(const std::string& floor, double mark_x, double mark_y) {
    std::string text =
        "format = 1\n[site]\nname = \"Hall\"\nposition = \"52N 1E\"\ntime_zone = "
        "\"Europe/London\"\n[room]\nfloor = " +
        floor +
        "\nwalls = [\"south\", \"east\", \"north\", \"west\"]\nheight_m = 4\n"
        "bearing = { wall = \"south\", faces = 180, north = \"true\" }\n";
    for (int i = 0; i < 12; ++i) {
        const std::string name = i == 0   ? wide_name
                                 : i == 1 ? accented_name
                                 : i == 2 ? std::string(90, 'W')
                                          : "window " + std::to_string(i);
        text += "[[window]]\nname = \"" + name + "\"\nwall = \"" +
                (mark_x > mark_y ? "south" : "east") + "\"\nleft_m = \"" +
                std::to_string(1 + 3.9 * i) +
                " m\"\nwidth_m = 1.4\nsill_m = 0.8\nheight_m = 2\nreveal_m = 0.3\n";
    }
    const auto mark = [&](const std::string& name, double away) {
        text += "[[mark]]\nname = \"" + name + "\"\nat = [\"" + std::to_string(mark_x + away) +
                " m\", \"" + std::to_string(mark_y) + " m\"]\nheight_m = 1.2\n";
    };
    mark(wide_name, 0);
    mark("a second mark beside the first", 1);
    return text;
}

constexpr const char* hall_floor =
    R"([["0 m", "0 m"], ["48 m", "0 m"], ["48 m", "6 m"], ["0 m", "6 m"]])";
constexpr const char* corridor_floor =
    R"([["0 m", "0 m"], ["6 m", "0 m"], ["6 m", "48 m"], ["0 m", "48 m"]])";

/// What the program prints where lines may be so long, in a UTF-8 locale.
std::string printed(const std::vector<std::string>& words, std::size_t columns) {
    std::vector<const char*> argv{"keyhour"};
    for (const std::string& word : words)
        argv.push_back(word.c_str());
    std::istringstream in;
    std::ostringstream out, err;
    keyhour::cli::set_line_columns(out, columns);
    const char* before = std::getenv("LC_ALL");
    const std::string kept = before ? before : "";
    ::setenv("LC_ALL", "C.UTF-8", 1);
    const int code = keyhour::cli::run(static_cast<int>(argv.size()), argv.data(), in, out, err);
    before ? ::setenv("LC_ALL", kept.c_str(), 1) : ::unsetenv("LC_ALL");
    CAPTURE(err.str());
    REQUIRE(code == 0);
    return out.str();
}

std::string on_one_line(std::string text) {
    std::replace(text.begin(), text.end(), '\n', ' ');
    return text;
}

/// Columns of the few kinds of letters in these tests: East Asia 2, accents 0.
std::size_t width(const std::string& line) {
    std::size_t n = 0;
    for (std::size_t i = 0; i < line.size();) {
        const auto byte = static_cast<unsigned char>(line[i]);
        const std::size_t length = byte < 0x80 ? 1 : byte < 0xE0 ? 2 : byte < 0xF0 ? 3 : 4;
        const bool is_accent = byte == 0xCC;                // U+0300 to U+033F
        const bool is_wide = byte >= 0xE3 && byte <= 0xE9;  // U+3000 to U+9FFF
        n += is_accent ? 0 : is_wide ? 2 : 1;
        i += length;
    }
    return n;
}

std::vector<std::string> wider_than(const std::string& text, std::size_t columns) {
    std::vector<std::string> out;
    std::istringstream lines{text};
    for (std::string line; std::getline(lines, line);)
        if (width(line) > columns) out.push_back(line);
    return out;
}

}  // namespace

TEST_CASE("a drawing in characters is no wider than the terminal", "[cli]") {
    const ScratchFolder folder{"keyhour_draw"};
    const auto file = (folder.path / "hall.toml").string();
    for (const bool is_hall : {true, false}) {
        std::ofstream{file} << (is_hall ? hall(hall_floor, 12, 2) : hall(corridor_floor, 2, 12));
        for (const std::size_t columns : {40U, 60U, 80U})
            for (const char* command : {"patch", "key"}) {
                const std::string page =
                    printed({command, file, "--date", "2026-02-14", "--draw"}, columns);
                CAPTURE(is_hall, columns, command, page);
                CHECK(wider_than(page, columns) == std::vector<std::string>{});
                CHECK(holds(page, wide_name));
                CHECK(holds(page, accented_name));
                CHECK(holds(on_one_line(page), "true north lies to the"));
            }
    }
}

TEST_CASE("rows of wide letters stand under each other", "[cli]") {
    const ScratchFolder folder{"keyhour_draw_rows"};
    const auto file = (folder.path / "hall.toml").string();
    std::ofstream{file} << hall(hall_floor, 12, 2);
    const std::string page = printed({"patch", file, "--date", "2026-02-14", "--draw"}, 80);
    // The plan's walls close every row at the same column.
    std::istringstream lines{page.substr(page.find("\u2588"))};
    for (std::string line; std::getline(lines, line) && line.starts_with("\u2588");) {
        CAPTURE(line);
        CHECK(width(line) == 80);
    }
}

TEST_CASE("nine of many times are drawn, from first to last, and this is said", "[cli]") {
    const std::string page = printed(
        {"patch", example("tallow-lane"), "--date", "2026-02-14", "--step", "30", "--draw"}, 80);
    CAPTURE(page);
    CHECK(holds(on_one_line(page), "sun at 1 07:30, "));
    CHECK(holds(on_one_line(page), ", 9 17:00, + at more than one"));
    CHECK(holds(on_one_line(page), "(9 of the 20 times)"));
}

TEST_CASE("lines of text keep to a narrow terminal, tables to themselves", "[cli]") {
    const std::string page = printed({"key", example("tallow-lane"), "--date", "2026-02-14"}, 50);
    CHECK(wider_than(page, 50) == std::vector<std::string>{});
    // A table's rows are not torn apart: the terminal breaks them.
    const std::string table =
        printed({"key", example("tallow-lane"), "--from", "2026-02-14", "--to", "2026-02-16"}, 50);
    CHECK(holds(table, "Sa 2026-02-14 13:00-14:20   80   55   73\n"));
}

TEST_CASE("the terminal's columns are those that COLUMNS says, else 80 where there is none",
          "[cli]") {
    const char* before = std::getenv("COLUMNS");
    const std::string kept = before ? before : "";
    ::setenv("COLUMNS", "64", 1);
    CHECK(keyhour::cli::terminal_columns(-1) == 64);
    for (const char* nonsense : {"", "wide", "0"}) {
        ::setenv("COLUMNS", nonsense, 1);
        CHECK(keyhour::cli::terminal_columns(-1) == 80);
    }
    before ? ::setenv("COLUMNS", kept.c_str(), 1) : ::unsetenv("COLUMNS");
    std::ostringstream out;
    CHECK(keyhour::cli::line_columns(out) == 80);
    keyhour::cli::set_line_columns(out, 20);
    CHECK(keyhour::cli::line_columns(out) == 40);
    keyhour::cli::set_line_columns(out, 200);
    CHECK(keyhour::cli::line_columns(out) == 80);
}
