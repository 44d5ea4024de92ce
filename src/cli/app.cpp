#include "app.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <exception>
#include <ostream>
#include <string>
#include <vector>

#include "command.hpp"
#include "command_lamp.hpp"
#include "command_sheet.hpp"
#include "keyhour/site/nearest.hpp"
#include "keyhour/version.hpp"

namespace keyhour::cli {
namespace {

/// Every command; to add one, write command_NAME.cpp and name its offer here.
constexpr std::array kOffers{offer_sun,   offer_day,     offer_patch,    offer_key,
                             offer_lock,  offer_lamp,    offer_exterior, offer_batch,
                             offer_sheet, offer_bearing, offer_check,    offer_new};

std::vector<std::string> command_names(const CLI::App& app) {
    std::vector<std::string> names;
    for (const CLI::App* command : app.get_subcommands({}))
        names.push_back(command->get_name());
    return names;
}

int unknown_command(const std::string& word, const std::vector<std::string>& names,
                    std::ostream& err) {
    err << "keyhour: there is no command \"" << word << '"';
    if (const auto suggestion = site::nearest(word, names))
        err << "; did you mean \"" << *suggestion << "\"?";
    err << "\ncommands:";
    for (const std::string& name : names)
        err << ' ' << name;
    err << "\nrun \"keyhour --help\" for what they answer\n";
    return wrong_usage;
}

// The command that was being parsed when the parser gave up, or the program itself.
const CLI::App& failing(const CLI::App& app) {
    const auto parsed = app.get_subcommands();
    return parsed.empty() ? app : *parsed.front();
}

std::string nearest_option(const CLI::App& command, const std::string& word) {
    std::vector<std::string> known;
    for (const CLI::Option* option : command.get_options())
        for (const std::string& name : option->get_lnames())
            known.push_back("--" + name);
    const auto suggestion = site::nearest(word.substr(0, word.find('=')), known);
    return suggestion ? "; did you mean " + *suggestion + '?' : std::string{};
}

int usage_error(const CLI::App& app, const CLI::ParseError& error, std::ostream& err) {
    const CLI::App& command = failing(app);
    const std::string called =
        &command == &app ? std::string{"keyhour"} : "keyhour " + command.get_name();
    const auto extras = command.remaining();
    if (dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr && !extras.empty()) {
        const std::string& extra = extras.front();
        const bool is_option = extra.size() > 1 && extra.front() == '-';
        err << called << ": " << (is_option ? "there is no option " : "nothing expected after ")
            << (is_option ? extra : "the location: \"" + extra + '"')
            << (is_option ? nearest_option(command, extra) : std::string{}) << '\n';
    } else {
        err << called << ": " << error.what() << '\n';
    }
    err << "run \"" << called << " --help\" for what is accepted\n";
    return wrong_usage;
}

int parse_and_answer(int argc, const char* const* argv, Session& session) {
    CLI::App app{
        "When, and through which window, the sun gives a clean key at a mark, and for\n"
        "how long it holds. Every command reads a location file; times are local, with\n"
        "their UTC offset.",
        "keyhour"};
    app.set_version_flag("--version", std::string{"keyhour "} + version());
    app.require_subcommand(1);
    app.get_formatter()->column_width(26);
    for (const auto offer : kOffers)
        offer(app, session);
    const std::vector<std::string> names = command_names(app);
    if (argc < 2) {
        session.err << app.help();
        return wrong_usage;
    }
    const std::string first = argv[1];
    if (!first.empty() && first.front() != '-' &&
        std::find(names.begin(), names.end(), first) == names.end())
        return unknown_command(first, names, session.err);
    try {
        app.parse(argc, argv);
    } catch (const CLI::Success& asked_for_help) {
        app.exit(asked_for_help, session.out, session.err);
        return answered;
    } catch (const CLI::ParseError& error) {
        return usage_error(app, error, session.err);
    }
    return session.exit_code;
}

}  // namespace

int run(int argc, const char* const* argv, std::istream& in, std::ostream& out, std::ostream& err) {
    Session session{in, out, err};
    try {
        return parse_and_answer(argc, argv, session);
    } catch (const std::bad_alloc&) {
        err << "keyhour: not enough memory for this question\n";
    } catch (const std::exception& e) {
        err << "keyhour: an error inside the program: " << e.what() << '\n';
    }
    return bad_data;
}

}  // namespace keyhour::cli
