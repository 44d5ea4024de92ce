#include "version_answer.hpp"

#include <chrono>
#include <nlohmann/json.hpp>
#include <ostream>

#include "failure.hpp"
#include "keyhour/site/quoted.hpp"
#include "site/zone_files.hpp"
#include "tell/version_page.hpp"
#include "text.hpp"

namespace keyhour::cli {

int answer_version(const std::vector<std::string>& arguments, std::ostream& out,
                   std::ostream& err) {
    bool as_json = false;
    for (const std::string& argument : arguments) {
        if (argument == "--json")
            as_json = true;
        else if (argument != "--verbose")
            return report(
                {wrong_usage, "keyhour --version: nothing is known of " + site::quoted(argument) +
                                  "; accepted: --verbose, --json"},
                err);
    }
    const tell::VersionFacts facts{
        tell::build_facts(), site::reference_data(site::zone_folder()),
        site::LocalDate{date::floor<date::days>(std::chrono::system_clock::now())}};
    if (as_json)
        tell::write(out, tell::version_document(facts));
    else
        print(out, tell::version_page(facts));
    return answered;
}

}  // namespace keyhour::cli
