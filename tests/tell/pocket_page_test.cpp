#include "tell/pocket_page.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <string>

using namespace keyhour;

namespace {

std::string element(const std::string& page, const std::string& id) {
    const std::size_t head = page.find("id=\"" + id + "\">");
    REQUIRE(head != std::string::npos);
    const std::size_t from = page.find('>', head) + 1;
    return page.substr(from, page.find("</script>", from) - from);
}

}  // namespace

TEST_CASE("the pocket page carries the library's bytes in base 64", "[pocket][published]") {
    // RFC 4648, section 10.
    for (const auto& [bytes, wanted] :
         {std::pair{"", ""}, std::pair{"f", "Zg=="}, std::pair{"fo", "Zm8="},
          std::pair{"foo", "Zm9v"}, std::pair{"foob", "Zm9vYg=="}, std::pair{"foobar", "Zm9vYmFy"}})
        CHECK(element(tell::pocket_page({bytes, "", {}}), "library") == wanted);
    CHECK(element(tell::pocket_page({std::string{"\xff\x00\xfe", 3}, "", {}}), "library") ==
          "/wD+");
}

TEST_CASE("a location in the pocket page ends no script, and comes out as it went in", "[pocket]") {
    const std::string text =
        "name = \"</script><script>alert(1)</script><!--\"\n# \xc3\xa9 \\ \"\n";
    const std::string page =
        tell::pocket_page({"", R"({"</script>":"GMT0"})", {{"<b>.toml", text}}});
    CHECK(page.find("alert(1)</script>") == std::string::npos);
    CHECK(page.find("<b>.toml") == std::string::npos);
    const auto files = nlohmann::json::parse(element(page, "locations"));
    REQUIRE(files.size() == 1);
    CHECK(files[0]["name"] == "<b>.toml");
    CHECK(files[0]["text"] == text);
    CHECK(nlohmann::json::parse(element(page, "zones"))["</script>"] == "GMT0");
}

TEST_CASE("the pocket page's policy names its script and style, and lets nothing else in",
          "[pocket]") {
    const std::string page = tell::pocket_page({"", "", {}});
    CHECK(page.find("default-src 'none'; script-src 'sha256-") != std::string::npos);
    CHECK(page.find("unsafe-inline") == std::string::npos);
    CHECK(page.find("http:") == page.find("http://www.w3.org"));
    CHECK(page.find("https:") == std::string::npos);
    // All but the library and the locations; of the 2.5 MB of a page with one.
    CHECK(page.size() < 160'000);
}
