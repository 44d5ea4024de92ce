// The manual in the program: every topic is found, fits a phone, and its examples are true.

#include "tell/manual.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <set>
#include <string>
#include <vector>

#include "examples.hpp"
#include "read/light_log.hpp"
#include "read/location_file.hpp"
#include "read/shoot_file.hpp"
#include "read/starter_file.hpp"
#include "work_folder.hpp"

using namespace keyhour;
using namespace keyhour::cli;

namespace {

constexpr std::size_t phone = 40;

const std::filesystem::path sources = KEYHOUR_LOCATIONS "/../src/tell/manual";

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

/// What stands in code in a cell, as `sill_m`.
std::string key_in(const std::string& cell) {
    return cell.starts_with('`') ? cell.substr(1, cell.find('`', 1) - 1) : std::string{};
}

/// A key of the location file, as its topic has it.
struct Key {
    std::string table, name;  // "[[window]]", "sill_m"
};

std::vector<Key> keys_of_topic() {
    std::vector<Key> keys;
    std::string table;
    for (const tell::Topic& topic : tell::manual_topics()) {
        if (topic.name != "location") continue;
        for (const tell::Block& block : topic.blocks) {
            if (block.kind == tell::Block::Kind::heading) table = block.text;
            if (block.kind == tell::Block::Kind::paragraph &&
                block.text.starts_with("Of `bearing`"))
                table = "bearing";
            for (const auto& row : block.rows)
                if (const std::string key = key_in(row.front()); !key.empty())
                    keys.push_back({table.substr(0, table.find(' ')), key});
        }
    }
    return keys;
}

/// A sound file but for one line, which stands in the table named.
std::string file_with(const std::string& table, const std::string& line) {
    const auto in = [&](const char* name) { return table == name ? line + '\n' : std::string{}; };
    std::string text =
        "format = 1\n[site]\nposition = \"52.95N 1.15W\"\ntime_zone = \"Europe/London\"\n" +
        in("[site]") +
        "[room]\nfloor = [[0, 0], [6, 0], [6, 4], [0, 4]]\nwalls = [\"a\", \"b\", \"c\", \"d\"]\n"
        "height_m = 3\n" +
        in("[room]") + "[room.bearing]\nwall = \"a\"\nfaces = 196\nnorth = \"true\"\n" +
        in("bearing");
    if (table.starts_with("[[") || table == "[rigging]" || table == "[lock]")
        text += table + '\n' + line + '\n';
    return text;
}

std::string complaints(const std::string& text) {
    const auto location = read::read_location_text(text, "room.toml");
    return location ? std::string{} : read::text(location.error());
}

}  // namespace

TEST_CASE("help lists every topic and every command in one screen of a terminal", "[cli][manual]") {
    const Outcome list = run_program({"help"});
    CHECK(list.code == answered);
    const auto lines = examples::lines_of(list.out);
    for (const char* topic : {"answers", "questions", "location", "windows", "doubt", "bearing",
                              "lamps", "light", "surroundings", "batch", "clusters", "exactness",
                              "files", "sheet", "shoot", "match", "pocket"})
        CHECK(std::ranges::any_of(lines, [&](const std::string& line) {
            return line.starts_with("  " + std::string{topic} + ' ');
        }));
    for (const char* command : {"key", "lock", "patch", "day", "lamp", "exterior", "check", "new"})
        CHECK(holds(list.out, "\n  " + std::string{command} + ' '));
    CHECK(lines.size() <= 32);
}

TEST_CASE("every topic fits a phone's forty columns, but for commands and names", "[cli][manual]") {
    for (const tell::Topic& topic : tell::manual_topics()) {
        const Outcome page = examples::run_narrow({"help", topic.name}, phone);
        CHECK(page.code == answered);
        CHECK(page.out.starts_with(topic.name + ": "));
        const std::string own = page.out.substr(0, page.out.find("OPTIONS OF THE COMMAND"));
        for (const std::string& line : examples::lines_of(own)) {
            INFO(topic.name << ": " << line);
            // What a command prints keeps its own width, tables of figures above all.
            const bool is_output = std::ranges::any_of(topic.blocks, [&](const tell::Block& block) {
                return (block.language == "text" || block.language == "log") &&
                       holds(block.text, line + '\n');
            });
            CHECK((line.size() <= phone || is_output));
            CHECK_FALSE(line.starts_with("|"));
            CHECK_FALSE(line.starts_with("```"));
        }
    }
}

TEST_CASE("a topic is found by its other names, and a typing slip gets the nearest",
          "[cli][manual]") {
    CHECK(run_program({"help", "limits"}).out == run_program({"help", "exactness"}).out);
    const Outcome slip = run_program({"help", "surroundigs"});
    CHECK(slip.code == wrong_usage);
    CHECK(slip.err ==
          "keyhour help: there is no topic or command \"surroundigs\"; did you mean "
          "\"surroundings\"?\n"
          "topics: answers batch bearing clusters doubt exactness files lamps light location "
          "match pocket questions "
          "sheet shoot surroundings windows\n"
          "run \"keyhour help\" for what they tell\n");
    CHECK(holds(run_program({"help", "kye"}).err, "did you mean \"key\"?"));
}

TEST_CASE("help of a command is its --help, after the topic of that name", "[cli][manual]") {
    for (const char* command : {"key", "lock", "new", "help"})
        CHECK(run_program({"help", command}).out == run_program({command, "--help"}).out);
    const std::string both = run_program({"help", "bearing"}).out;
    CHECK(both.starts_with("bearing: which way a wall faces\n"));
    CHECK(both.ends_with(run_program({"bearing", "--help"}).out));
}

TEST_CASE("what the topics show is what the program prints, forty columns wide", "[cli][manual]") {
    const WorkFolder work{"keyhour_manual"};
    std::size_t checked = 0;
    for (const auto& entry : std::filesystem::directory_iterator{sources})
        if (entry.path().extension() == ".md")
            checked += examples::check_outputs(entry.path(), phone);
    CHECK(checked >= 2);
}

TEST_CASE("the topics' commands run", "[cli][manual]") {
    const WorkFolder work{"keyhour_manual_commands"};
    std::size_t commands = 0, files = 0, flags = 0, shoots = 0, logs = 0;
    for (const auto& entry : std::filesystem::directory_iterator{sources}) {
        if (entry.path().extension() != ".md") continue;
        for (const examples::Fence& fence : examples::fences_of(examples::contents(entry.path()))) {
            INFO(entry.path().filename().string() << ":" << fence.first_line);
            const std::string lines = examples::joined(fence.lines);
            if (fence.language == "sh") {
                CHECK(work.shell(lines) == 0);
                ++commands;
            } else if (fence.language == "flags") {
                CHECK(work.shell("keyhour bearing room.toml --date 2026-02-11 " + lines) == 0);
                ++flags;
            } else if (fence.language == "toml" && holds(lines, "[shoot]")) {
                const auto read =
                    read::read_shoot_text(lines, "locations/bindery-and-wharf/shoot.toml");
                CHECK((read ? std::string{} : read::text(read.error())) == "");
                ++shoots;
            } else if (fence.language == "log") {
                const auto log = read::read_light_log_text(lines, "light.log");
                REQUIRE(log);
                CHECK(read::text(log->problems) == "");
                CHECK(log->shots.size() == 1);
                ++logs;
            } else if (fence.language == "toml") {
                const bool whole = lines.starts_with("format = 1");
                std::string text = whole ? lines : file_with("", "") + lines;
                if (const auto site = lines.find("[site]\n"); !whole && site != std::string::npos)
                    text = file_with("[site]", lines.substr(site + 7));
                if (holds(lines, "wall = \"street\"") && !whole)
                    text.replace(text.find("\"a\", \"b\""), 3, "\"street\""),
                        text.replace(text.find("wall = \"a\""), 10, "wall = \"street\"");
                std::ofstream{"example.toml"} << text;
                const auto read = read::read_location("example.toml");
                CHECK((read ? std::string{} : read::text(read.error())) == "");
                ++files;
            } else {
                // Clusters: run by tests/cluster, from the topic itself.
                CHECK((fence.language == "bash" || examples::is_shown(fence)));
            }
        }
    }
    CHECK(commands >= 6);
    CHECK(files >= 6);
    CHECK(flags == 7);
    CHECK(shoots == 1);
    CHECK(logs == 1);
}

TEST_CASE("answers tells what of a spreadsheet follows the units", "[cli][manual]") {
    std::string page = run_program({"help", "answers"}).out;
    std::ranges::replace(page, '\n', ' ');
    CHECK(holds(page, "JSON and the columns of CSV stay metric"));
    CHECK(holds(page, "words in sheet.csv follow the units"));
}

TEST_CASE("the command beside each question answers it without a complaint", "[cli][manual]") {
    const WorkFolder work{"keyhour_manual_questions"};
    std::size_t run = 0;
    for (const tell::Topic& topic : tell::manual_topics()) {
        if (topic.name != "questions") continue;
        for (const tell::Block& block : topic.blocks)
            for (const auto& row : block.rows) {
                std::string command = key_in(row.back());
                if (!command.starts_with("keyhour ")) continue;
                if (const auto file = command.find(" FILE"); file != std::string::npos)
                    command.replace(file, 5, " room.toml");
                if (const auto d = command.find("--date D"); d != std::string::npos)
                    command.replace(d, 8, "--date 2026-02-17");
                INFO(row.front());
                CHECK(work.shell(command) == 0);
                ++run;
            }
    }
    CHECK(run >= 25);
}

TEST_CASE("every key that the topic tells of is one that the reader knows", "[cli][manual]") {
    const auto keys = keys_of_topic();
    CHECK(keys.size() >= 80);
    for (const Key& key : keys) {
        INFO(key.table << ' ' << key.name);
        const std::string said = complaints(file_with(key.table, key.name + "q = 1"));
        CHECK(holds(said, "unknown key \"" + key.name + "q\""));
        CHECK(holds(said, "did you mean \"" + key.name + "\"?"));
    }
}

TEST_CASE("every key of the starter and the examples stands in the topic", "[cli][manual]") {
    std::set<std::string> known;
    for (const Key& key : keys_of_topic())
        known.insert(key.name);
    for (const char* in_words : {"format", "name", "minutes"})
        known.insert(in_words);
    std::string text = read::starter_file({});
    for (const char* file : {"/tallow-lane.toml", "/mill-green/mill-green.toml", "/sundet.toml"})
        text += examples::contents(std::string{KEYHOUR_LOCATIONS} + file);
    std::size_t looked_at = 0;
    for (std::string line : examples::lines_of(text)) {
        if (line.starts_with("# ")) line.erase(0, 2);
        const std::size_t end = line.find_first_not_of("abcdefghijklmnopqrstuvwxyz_");
        if (end == 0 || end == std::string::npos || line.substr(end, 3) != " = ") continue;
        INFO(line);
        CHECK(known.count(line.substr(0, end)) == 1);
        ++looked_at;
    }
    CHECK(looked_at > 100);
}

TEST_CASE("marks of the manual's sources are read and taken off", "[cli][manual]") {
    CHECK(tell::unmarked("`--draw`, **bold** and *sure*: 2 * 3") == "--draw, bold and sure: 2 * 3");
    const auto parts = tell::styled("a `b` **c**");
    REQUIRE(parts.size() == 4);
    CHECK(parts[1].style == tell::Style::code);
    CHECK(parts[3].style == tell::Style::bold);
    const tell::Topic topic = tell::read_topic(
        "# one, two: what\n\nfirst\nsecond\n\n- item\ngoes on\n- next\n\n"
        "| a | b |\n| --- | --- |\n| `k` | v |\n\n```sh\nx\n\ny\n```\n");
    CHECK(topic.name == "one");
    CHECK(topic.other_names == std::vector<std::string>{"two"});
    CHECK(topic.summary == "what");
    REQUIRE(topic.blocks.size() == 5);
    CHECK(topic.blocks[0].text == "first second");
    CHECK(topic.blocks[1].text == "item goes on");
    CHECK(topic.blocks[3].rows[1] == std::vector<std::string>{"`k`", "v"});
    CHECK(topic.blocks[4].text == "x\n\ny\n");
}
