// The README shows real output: what it prints is what the program prints.

#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "run_program.hpp"

using namespace keyhour::cli;

namespace {

struct Example {
    std::vector<std::string> arguments;
    std::string output;
};

/// Blocks of text that begin with a prompt line, "$ keyhour ...".
std::vector<Example> examples_of_readme() {
    std::ifstream readme{KEYHOUR_LOCATIONS "/../README.md"};
    std::vector<Example> out;
    std::string line;
    bool inside = false;
    while (std::getline(readme, line)) {
        if (line.starts_with("$ keyhour ")) {
            inside = true;
            std::istringstream words{line.substr(10)};
            Example example;
            for (std::string word; words >> word;) {
                const std::string folder = "locations/";
                if (word.starts_with(folder))
                    word = KEYHOUR_LOCATIONS "/" + word.substr(folder.size());
                example.arguments.push_back(word);
            }
            out.push_back(example);
        } else if (line == "```") {
            inside = false;
        } else if (inside) {
            out.back().output += line + '\n';
        }
    }
    return out;
}

}  // namespace

TEST_CASE("the README's worked examples are what the program prints", "[cli]") {
    const auto examples = examples_of_readme();
    REQUIRE(examples.size() >= 2);
    for (const Example& example : examples) {
        const Outcome outcome = run_program(example.arguments);
        CHECK(outcome.code == answered);
        CHECK(outcome.out == example.output);
    }
}
