#pragma once
// A paper of the light sheet, as the command writes it.

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "run_program.hpp"
#include "scratch_file.hpp"

inline std::string bytes(const std::filesystem::path& path) {
    std::ifstream in{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, {}};
}

inline std::string paper(const std::string& location, const char* kind,
                         const std::vector<std::string>& more = {"--date", "2026-02-14"}) {
    std::vector<std::string> ask{"sheet", location, "--only", kind, "-o", "-"};
    ask.insert(ask.end(), more.begin(), more.end());
    const Outcome outcome = run_program(ask);
    CAPTURE(outcome.err);
    REQUIRE(outcome.code == 0);
    return outcome.out;
}

inline std::size_t count(const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (std::size_t at = 0; (at = text.find(part, at)) != std::string::npos; at += part.size())
        ++n;
    return n;
}

inline nlohmann::json data_of(const std::string& page) {
    const std::string before = "<script type=\"application/json\" id=\"sheet-data\">";
    const std::size_t at = page.find(before) + before.size();
    return nlohmann::json::parse(page.substr(at, page.find("</script>", at) - at));
}

inline const std::string hostile = "</script><img src=x onerror=alert(1)>&\\\"'";

/// Every name of an example made hostile.
inline std::string hostile_text() {
    std::string text = example_text("tallow-lane");
    for (const char* name : {"\"Tallow Lane Press\"", "\"case window\"", "\"type case\"",
                             "\"yard door\"", "\"imposing table\""})
        for (std::size_t at = 0; (at = text.find(name, at)) != std::string::npos;)
            text.replace(at, std::string{name}.size(),
                         "\"" + hostile + std::string{name}.substr(1, 4) + "\"");
    return text;
}
