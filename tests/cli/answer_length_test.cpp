// The answer first: one screen of 24 lines, of 80 columns or of a phone's 40, holds it.

#include <algorithm>
#include <catch2/catch.hpp>
#include <sstream>

#include "cli/app.hpp"
#include "cli/terminal.hpp"
#include "page.hpp"
#include "scratch_file.hpp"

namespace {

using Words = std::vector<std::string>;

/// The lines of an answer on so many columns.
std::vector<std::string> lines(const Words& words, std::size_t columns) {
    std::vector<const char*> argv{"keyhour"};
    for (const std::string& word : words)
        argv.push_back(word.c_str());
    std::istringstream in;
    std::ostringstream out, err;
    keyhour::cli::set_line_columns(out, columns);
    REQUIRE(keyhour::cli::run(static_cast<int>(argv.size()), argv.data(), in, out, err) == 0);
    std::vector<std::string> found;
    std::istringstream text{out.str()};
    for (std::string line; std::getline(text, line);)
        found.push_back(line);
    return found;
}

const std::string press = example("tallow-lane");

}  // namespace

TEST_CASE("an answer fits its lines, on 40 columns half as many again", "[cli][length]") {
    struct Answer {
        Words words;
        std::size_t most;
    };
    for (const Answer& answer :
         {Answer{{"key", press, "--date", "2026-02-17"}, 12},
          Answer{{"key", press, "--date", "2026-06-21"}, 10},
          Answer{{"key", press, "--date", "2026-03-10", "--by", "lamp"}, 16},
          Answer{{"lock", press, "--date", "2026-02-17", "--start", "10:00", "--end", "13:00"}, 16},
          Answer{{"exterior", press, "--date", "2026-02-17"}, 18},
          Answer{{"exterior", press, "--date", "2026-06-21"}, 18},
          Answer{{"day", press, "--date", "2026-02-17"}, 14},
          Answer{{"day", press, "--date", "2026-06-21"}, 14},
          Answer{{"patch", press, "--date", "2026-02-17", "--time", "13:30"}, 14},
          Answer{{"patch", press, "--date", "2026-03-10", "--time", "14:30"}, 14},
          Answer{{"check", press, "--year", "2026"}, 24},
          Answer{{"match", KEYHOUR_LOCATIONS "/tallow-lane-shoot/light.log", "--shot", "hands",
                  "--from", "2026-02-18", "--to", "2026-03-28"},
                 16},
          Answer{{"lamp", press, "--date", "2026-02-17", "--like", "13:30"}, 16}}) {
        const auto wide = lines(answer.words, 80), narrow = lines(answer.words, 40);
        CAPTURE(answer.words, wide, narrow);
        CHECK(wide.size() <= answer.most);
        CHECK(narrow.size() <= answer.most * 3 / 2);
        for (const std::string& line : narrow)
            CHECK(line.size() <= 40);
    }
}
