// The door for a page without a page: a request a line on standard input, a reply a line on
// standard output.
//   pocket_answer            answers
//   pocket_answer zones      prints the request that hands over this machine's zones
//   pocket_answer questions  prints requests about the location files named after it
#include <fstream>
#include <iostream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "pocket/answer.hpp"
#include "tell/zone_table_document.hpp"

namespace {

using keyhour::tell::Json;

void print_zones() {
    const Json table =
        keyhour::tell::json_of(keyhour::site::zone_table_of(keyhour::site::system_zones()));
    std::cout << Json{{"ask", "zones"}, {"table", table}}.dump() << '\n';
}

/// Every question, on two dates, of one place.
void print_questions(const std::string& path) {
    std::ifstream in{path};
    const std::string location{std::istreambuf_iterator<char>{in}, {}};
    const std::vector<Json> questions{
        {{"ask", "key"}, {"show", {"all"}}},
        {{"ask", "lamp key"}, {"lock", 90}},
        {{"ask", "lock"}, {"lock", 120}},
        {{"ask", "lamp"}, {"like", "13:30"}},
        {{"ask", "exterior"}},
        {{"ask", "day"}},
        {{"ask", "patch"}, {"time", "13:30"}},
        {{"ask", "measure next"}},
        {{"ask", "draw"}},
        {{"ask", "sheet"}},
        {{"ask", "key"}, {"changes", {"room.bearing.faces=197"}}},
        {{"ask", "key"}, {"coverage", "ninety"}},
        {{"ask", "key"}, {"changes", {"site.position=\"nonsense\""}}},
        {{"ask", "key"}, {"changes", {"site.position=\"99N 1W\""}}},
        {{"ask", "key"}, {"changes", {"site.time_zone=\"Europe/Londn\""}}},
        {{"ask", "key"}, {"changes", {"site.time_zone=\"GMT0BST,M13.5.0/1,M10.5.0\""}}},
        {{"ask", "key"},
         {"changes", {"site.buildings=\"b.geojson\""}},
         {"files", {{"b.geojson", "{\"a\":"}}}}};
    for (const char* date : {"2026-02-17", "2026-06-21"})
        for (Json question : questions) {
            question["location"] = location;
            question["date"] = date;
            question["now"] = 1771329600;  // 2026-02-17T12:00Z
            std::cout << question.dump() << '\n';
        }
    std::cout << Json{{"ask", "check"}, {"location", location}, {"year", 2026}}.dump() << '\n';
}

}  // namespace

int main(int argc, char** argv) {
    std::ios::sync_with_stdio(false);
    const std::vector<std::string> arguments{argv + 1, argv + argc};
    if (!arguments.empty() && arguments[0] == "zones") {
        print_zones();
    } else if (!arguments.empty() && arguments[0] == "questions") {
        for (std::size_t i = 1; i < arguments.size(); ++i)
            print_questions(arguments[i]);
    } else {
        for (std::string line; std::getline(std::cin, line);)
            std::cout << keyhour::pocket::answer(line) << std::endl;
    }
}
