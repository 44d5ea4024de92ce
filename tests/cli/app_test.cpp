#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "keyhour/version.hpp"
#include "run_program.hpp"
#include "schema_check.hpp"
#include "tell/version_page.hpp"

namespace {

// The program as a process, by a shell: for what streams in memory cannot show.
struct Shell {
    int code = -1;
    std::string out;
};
Shell shell(const std::string& command) {
    Shell result;
    FILE* pipe = popen(("( " + command + " ) 2>&1").c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::array<char, 4096> bytes{};
    while (const std::size_t n = std::fread(bytes.data(), 1, bytes.size(), pipe))
        result.out.append(bytes.data(), n);
    const int status = pclose(pipe);
    result.code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    return result;
}

const std::string kSun =
    std::string{KEYHOUR_PROGRAM} + " sun --position '52.95N 1.15W' --zone Europe/London";

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("the version is printed", "[cli]") {
    const Outcome o = run_program({"--version"});
    CHECK(o.code == 0);
    CHECK(o.out == std::string{"keyhour "} + keyhour::version() + "\n");
    CHECK(o.err.empty());
}

TEST_CASE("the version tells build and data on request, in words and as JSON", "[cli][version]") {
    const Outcome words = run_program({"--version", "--verbose"});
    CHECK(words.code == 0);
    CHECK(holds(words.out, std::string{"keyhour "} + keyhour::version() + "\n"));
    for (const char* head :
         {"\nbuild  ", "\nmagnetic model  WMM2025, for 2025 to 2029", "\ntime zones  ",
          "\nleap seconds    the last from 2017-01-01 on, TAI - UTC 37 s"})
        CHECK(holds(words.out, head));
    CHECK_FALSE(holds(words.out, "/home/"));
    const Outcome json = run_program({"--version", "--json"});
    CHECK(json.code == 0);
    CHECK(schema_faults("version", json.out) == "");
    CHECK(run_program({"--version", "--verbos"}).code == 2);
    CHECK(holds(run_program({"--version", "key"}).err, "accepted: --verbose, --json"));
}

TEST_CASE("what is out of date stands above all else", "[cli][version]") {
    using namespace date::literals;
    keyhour::tell::VersionFacts facts{
        {"GCC 12.2.0", "Release", "Linux x86_64"}, {"/zones", "2024b", {}}, 2031_y / 5 / 1};
    const auto page = keyhour::tell::version_page(facts);
    REQUIRE(page.size() == 7);
    CHECK(page[0].text ==
          "OUT OF DATE: the magnetic model ended with 2029: take a newer keyhour, or give bearings "
          "from true north");
    CHECK(page[1].text ==
          "OUT OF DATE: the time zones 2024b are more than a year old: update tzdata");
    CHECK(page[3].text == "build           GCC 12.2.0, Release, Linux x86_64");
    CHECK(schema_faults("version", keyhour::tell::version_document(facts).dump()) == "");
    facts.today = 2025_y / 5 / 1;
    CHECK(keyhour::tell::version_page(facts).front().text ==
          std::string{"keyhour "} + keyhour::version());
}

TEST_CASE("help is an answer, and every command's has an example", "[cli]") {
    const auto fits_80_columns = [](const std::string& text) {
        std::istringstream lines{text};
        for (std::string line; std::getline(lines, line);) {
            INFO(line);
            CHECK(line.size() <= 80);
        }
    };
    const Outcome o = run_program({"--help"});
    CHECK(o.code == 0);
    CHECK(o.err.empty());
    fits_80_columns(o.out);
    std::istringstream commands{run_program({"elephant"}).err};
    std::string command;
    while (commands >> command && command != "commands:") {
    }
    int many = 0;
    while (commands >> command && command != "run") {  // the list ends with a hint
        ++many;
        INFO(command);
        CHECK(holds(o.out, "  " + command));
        const Outcome help = run_program({command, "--help"});
        CHECK(help.code == 0);
        CHECK(holds(help.out, "example:\n  keyhour " + command));
        fits_80_columns(help.out);
    }
    CHECK(many >= 15);
}

TEST_CASE("a command that is not known gets a suggestion and the list", "[cli]") {
    const Outcome o = run_program({"dya", "--json"});
    CHECK(o.code == 2);
    CHECK(o.out.empty());
    CHECK(
        o.err.starts_with("keyhour: there is no command \"dya\"; did you mean \"day\"?\n"
                          "commands: sun day"));
    CHECK(holds(run_program({"elephant"}).err, "there is no command \"elephant\"\ncommands:"));
}

TEST_CASE("no command prints the help as an error", "[cli]") {
    const Outcome o = run_program({});
    CHECK(o.code == 2);
    CHECK(o.out.empty());
    CHECK(holds(o.err, "Usage: keyhour"));
}

TEST_CASE("options that are not known are wrong usage and get a suggestion", "[cli]") {
    const Outcome o = run_program({"day", "a.toml", "--dat", "2026-03-10"});
    CHECK(o.code == 2);
    CHECK(o.err ==
          "keyhour day: there is no option --dat; did you mean --date?\n"
          "run \"keyhour day --help\" for what is accepted\n");
    CHECK(run_program({"day", "a.toml", "b.toml"}).code == 2);
    CHECK(run_program({"sun", "--step", "often"}).code == 2);
    CHECK(run_program({"--json"}).code == 2);
}

namespace {

struct Refused {
    std::vector<std::string> arguments;
    const char* message;
};
const std::string place = "52.95N 1.15W", zone = "Europe/London";
const Refused contradictions[] = {
    {{"day"}, "no place: give a location file, or --position and --zone\n"},
    {{"day", "--position", place}, "--position needs --zone, such as --zone Europe/London\n"},
    {{"day", "--zone", zone}, "--zone needs --position, such as --position \"52.95N 1.15W\"\n"},
    {{"day", "a.toml", "--zone", zone},
     "a location file has its own position and zone: give the file or --position and --zone\n"},
    {{"day", "--position", place, "--zone", zone, "--date", "2026-03-10", "--from", "2026-03-10"},
     "--date is one date, --from and --to a range: give one or the other\n"},
    {{"day", "--position", place, "--zone", zone, "--from", "2026-03-10"}, "--from needs --to\n"},
    {{"day", "--position", place, "--zone", zone, "--to", "2026-03-10"}, "--to needs --from\n"},
    {{"day", "--position", place, "--zone", zone, "--from", "2026-03-10", "--to", "2026-03-09"},
     "--to 2026-03-09 lies before --from 2026-03-10\n"},
    {{"day", "--position", place, "--zone", zone, "--date", "03/04/2026"},
     "--date: \"03/04/2026\" is two dates: 3 April and 4 March; write 2026-04-03 or "
     "2026-03-04\n"},
    {{"sun", "--position", place, "--zone", zone, "--date", "2026-03-10", "--time", "3:20"},
     "--time: \"3:20\" may be morning or afternoon; write 03:20 or 15:20\n"},
    {{"sun", "--position", place, "--zone", zone, "--step", "0"},
     "--step 0: accepted: 1 to 1440 whole minutes\n"},
    {{"sun", "--position", place, "--zone", zone, "--elevation", "9001"},
     "--elevation 9001: accepted: -500 to 9000 metres\n"},
    {{"sun", "--position", place, "--zone", zone, "--elevation", "9001", "--units", "ft"},
     "--elevation 29531 ft: accepted: -1640 to 29527 ft\n"},
    {{"key", KEYHOUR_LOCATIONS "/tallow-lane.toml", "--near", "101", "--units", "ft"},
     "--near 331 ft 4 1/2 in: accepted: 0 to 328 ft\n"},
    {{"day", "--position", place, "--zone", zone, "--late-light", "6,-4"},
     "--late-light \"6,-4\": write two altitudes of the sun in degrees, the lower first, -18 "
     "to "
     "90, such as -4,6\n"},
    {{"sun", "--rows", "-", "--json"},
     "--rows takes place and time from each row and answers in CSV: leave out the location, "
     "the "
     "dates, --time and --json\n"},
};

}  // namespace

TEST_CASE("dates and places that contradict each other are wrong usage", "[cli]") {
    for (const Refused& c : contradictions) {
        const Outcome o = run_program(c.arguments);
        CHECK(o.code == 2);
        CHECK(o.err == c.message);
        CHECK(o.out.empty());
    }
}

TEST_CASE("a place and a zone that contradict each other are bad data", "[cli]") {
    const Outcome swapped = run_program(
        {"day", "--position", "-74 40.7", "--zone", "America/New_York", "--date", "2026-03-10"});
    CHECK(swapped.code == 1);
    CHECK(swapped.out.empty());
    CHECK(holds(swapped.err, "Latitude and longitude swapped?"));
    const Outcome asked = run_program(
        {"day", "--position", "52.95N 1.15W", "--zone", "Asia/Tokyo", "--date", "2026-03-10"});
    CHECK(asked.code == 0);
    CHECK(asked.out.starts_with("PLEASE CHECK: longitude 1.15 WEST"));
}

TEST_CASE("a location file that is not there is bad data", "[cli]") {
    const Outcome o = run_program({"day", "no-such-file.toml", "--date", "2026-03-10"});
    CHECK(o.code == 1);
    CHECK(o.out.empty());
    CHECK(o.err.starts_with("no-such-file.toml"));
}

TEST_CASE("without a date the answer is for today, and says so", "[cli]") {
    const Outcome o = run_program({"day", "--position", "52.95N 1.15W", "--zone", "Europe/London"});
    CHECK(o.code == 0);
    CHECK(holds(o.out, "; no --date given: today there\n"));
}

TEST_CASE("a reader that closes the pipe ends the program quietly", "[cli]") {
    const Shell s = shell("exec 3>&1; { " + kSun +
                          " --from 2026-01-01 --to 2026-12-31 --step 5; echo \"code $?\" >&3; } "
                          "| head -n 1");
    CHECK(s.out == "52.95N 1.15W, 52.95 NORTH 1.15 WEST\ncode 0\n");
    const Shell days = shell("exec 3>&1; { " KEYHOUR_PROGRAM " key " KEYHOUR_LOCATIONS
                             "/flax-road.toml --by lamp --from 2026-01-01 --to 2026-12-31; "
                             "echo \"code $?\" >&3; } | head -n 1");
    CHECK(days.out == "Flax Road Hatters, 45.10 SOUTH 170.96 EAST\ncode 0\n");
}

TEST_CASE("an output that cannot be written is an error", "[cli]") {
    const std::string room =
        std::string{KEYHOUR_PROGRAM} + " key " KEYHOUR_LOCATIONS "/flax-road.toml";
    for (const std::string& command : {kSun, room, room + " --by lamp", room + " --json"}) {
        const Shell s = shell(command + " --date 2026-03-10 > /dev/full");
        CHECK(s.code == 1);
        CHECK(s.out == "keyhour: the answer could not be written: No space left on device\n");
    }
}
