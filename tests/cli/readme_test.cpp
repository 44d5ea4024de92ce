// The README shows real output: what it prints is what the program prints.

#include <catch2/catch.hpp>
#include <filesystem>

#include "examples.hpp"
#include "work_folder.hpp"

TEST_CASE("the README's worked examples are what the program prints", "[cli][readme]") {
    const std::filesystem::path readme = KEYHOUR_LOCATIONS "/../README.md";
    const WorkFolder work{"keyhour_readme"};
    CHECK(examples::check_outputs(readme, 80) >= 4);
}

TEST_CASE("the README's commands run", "[cli][readme]") {
    const WorkFolder work{"keyhour_readme_commands"};
    std::size_t run = 0, of_the_build = 0;
    for (const examples::Fence& fence :
         examples::fences_of(examples::contents(KEYHOUR_LOCATIONS "/../README.md"))) {
        if (fence.language != "sh") continue;
        if (fence.lines.front().starts_with("apt-get ")) {
            ++of_the_build;  // .ci/run runs the one that tests
            continue;
        }
        INFO("README.md:" << fence.first_line);
        CHECK(work.shell(examples::joined(fence.lines)) == 0);
        ++run;
    }
    CHECK(of_the_build == 2);
    CHECK(run >= 1);
}

TEST_CASE("the README is short enough to be read", "[cli][readme]") {
    CHECK(std::filesystem::file_size(KEYHOUR_LOCATIONS "/../README.md") <= 12'000);
}
