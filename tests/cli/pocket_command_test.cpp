// The page that holds all of keyhour: what it is made of, and what it refuses.
#include <catch2/catch.hpp>

#include "run_program.hpp"
#include "scratch_file.hpp"
#include "scratch_folder.hpp"

namespace {

/// Packed, as far as the first two bytes say (RFC 1952, section 2.3.1).
const std::string kPacked{"\x1f\x8b\x08 a library", 13};

Outcome pocket(const std::string& library, const std::string& to,
               std::vector<std::string> more = {}) {
    std::vector<std::string> arguments{"pocket", "--library", library, "-o", to};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run_program(arguments);
}

std::string contents_of(const std::string& path) {
    std::ostringstream text;
    text << std::ifstream{path}.rdbuf();
    return text.str();
}

}  // namespace

TEST_CASE("a page carries the library, zones and the locations given", "[cli][pocket]") {
    const ScratchFile library{"keyhour-pocket-test.gz", kPacked};
    const Outcome page = pocket(library.path, "-", {example("tallow-lane")});
    INFO(page.err);
    CHECK(page.code == 0);
    CHECK(page.out.find("H4sIIGEgbGlicmFyeQ==") != std::string::npos);  // the bytes in base 64
    CHECK(page.out.find("tallow-lane.toml") != std::string::npos);
    CHECK(page.out.find("\"Europe/London\":") != std::string::npos);
    CHECK(page.out.find("GMT0BST,M3.5.0/1,M10.5.0") != std::string::npos);
}

TEST_CASE("a page written once is written again, another's file is not", "[cli][pocket]") {
    const ScratchFile library{"keyhour-pocket-test.gz", kPacked};
    const ScratchFile other{"keyhour-pocket-other.html", "<html>a diary</html>\n"};
    const Outcome refused = pocket(library.path, other.path);
    CHECK(refused.code != 0);
    CHECK(contents_of(other.path) == "<html>a diary</html>\n");
    CHECK(pocket(library.path, other.path, {"--force"}).code == 0);
    CHECK(pocket(library.path, other.path).code == 0);
    CHECK(contents_of(other.path).find("<!-- keyhour pocket page -->") != std::string::npos);
}

TEST_CASE("what is no packed library, or no sound location, makes no page", "[cli][pocket]") {
    const ScratchFile bare{"keyhour-pocket-bare.wasm", std::string{"\0asm\1\0\0\0", 8}};
    const ScratchFile text{"keyhour-pocket-text.gz", "words"};
    const ScratchFile library{"keyhour-pocket-test.gz", kPacked};
    const ScratchFile broken{"keyhour-pocket-broken.toml", "format = 1\n"};
    CHECK(pocket(bare.path, "-").err.find("is not packed by gzip") != std::string::npos);
    CHECK(pocket(text.path, "-").err.find("is not packed by gzip") != std::string::npos);
    CHECK(pocket("/nowhere/keyhour.wasm.gz", "-").err.find("preset wasm-library") !=
          std::string::npos);
    const Outcome unsound = pocket(library.path, "-", {broken.path});
    CHECK(unsound.code == 1);
    CHECK(unsound.out.empty());
    CHECK(unsound.err.find("[site]") != std::string::npos);
    CHECK(run_program({"pocket"}).code == 2);
}

TEST_CASE("a page carries the texts that a location names, and says what it can't hold",
          "[cli][pocket]") {
    const ScratchFile library{"keyhour-pocket-test.gz", kPacked};
    const ScratchFile skyline{"keyhour-pocket-skyline.csv",
                              "bearing_deg,altitude_deg\n0,3\n180,5\n"};
    const std::string name = std::filesystem::path{skyline.path}.filename().string();
    const ScratchFile location{
        "keyhour-pocket-place.toml",
        "format = 1\n[site]\nposition = \"52N 0E\"\ntime_zone = \"UTC\"\nhorizon = { file = \"" +
            name + "\", north = \"true\" }\n"};
    const Outcome page = pocket(library.path, "-", {location.path});
    INFO(page.err);
    CHECK(page.code == 0);
    CHECK(page.err.empty());
    CHECK(page.out.find("\"beside\":{\"" + name + "\":\"bearing_deg,altitude_deg") !=
          std::string::npos);
}
