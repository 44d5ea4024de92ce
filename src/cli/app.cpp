#include "app.hpp"

#include <algorithm>
#include <array>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "argument_parser.hpp"
#include "command.hpp"
#include "command_help.hpp"
#include "command_lamp.hpp"
#include "command_log.hpp"
#include "command_plan.hpp"
#include "command_sheet.hpp"
#include "keyhour/site/nearest.hpp"
#include "keyhour/site/quoted.hpp"
#include "keyhour/version.hpp"
#include "thrown.hpp"
#include "version_answer.hpp"
#include "what_if.hpp"
#include "words/guarded_stream.hpp"

namespace keyhour::cli {
namespace {

struct Command {
    const char* name;
    void (*offer)(CommandLine& line, Session& session);
};

/// Every command, in the order of the help; to add one, write command_NAME.cpp and name its offer
/// here.
constexpr std::array kCommands{
    Command{"sun", offer_sun},           Command{"day", offer_day},
    Command{"patch", offer_patch},       Command{"key", offer_key},
    Command{"lock", offer_lock},         Command{"lamp", offer_lamp},
    Command{"exterior", offer_exterior}, Command{"plan", offer_plan},
    Command{"log", offer_log},           Command{"match", offer_match},
    Command{"batch", offer_batch},       Command{"sheet", offer_sheet},
    Command{"pocket", offer_pocket},     Command{"bearing", offer_bearing},
    Command{"check", offer_check},       Command{"new", offer_new},
    Command{"help", offer_help}};

int unknown_command(const std::string& word, const std::vector<std::string>& names,
                    std::ostream& err) {
    err << "keyhour: there is no command " << site::quoted(word);
    if (const auto suggestion = site::nearest(word, names))
        err << "; did you mean \"" << *suggestion << "\"?";
    err << "\ncommands:";
    for (const std::string& name : names)
        err << ' ' << name;
    err << "\nrun \"keyhour --help\" for what they answer\n";
    return wrong_usage;
}

constexpr const char* about =
    "When, and through which window, the sun gives a clean key at a mark, and for\n"
    "how long it holds. Every command reads a location file; times are local, with\n"
    "their UTC offset.";

/// The command that is asked, alone, as offering all of them takes most of a start; all where the
/// first argument names none, and for the help, which tells of all.
void offer_asked(std::string_view first, CommandLine& line, Session& session) {
    const auto* const asked = std::ranges::find(kCommands, first, &Command::name);
    if (asked != kCommands.end() && first != "help") return asked->offer(line, session);
    for (const Command& command : kCommands)
        command.offer(line, session);
}

/// One question, without the program's name; what if is in it already.
int answer_one(const Arguments& arguments, Session& session) {
    std::vector<const char*> argv{"keyhour"};
    for (const std::string& argument : arguments)
        argv.push_back(argument.c_str());
    ArgumentParser line{"keyhour", about, std::string{"keyhour "} + version()};
    offer_asked(arguments.empty() ? std::string_view{} : arguments.front(), line, session);
    const auto code =
        line.parse(static_cast<int>(argv.size()), argv.data(), session.out, session.err);
    return code ? *code : session.exit_code;
}

int parse_and_answer(int argc, const char* const* argv, Session& session) {
    const std::string first = argc < 2 ? "" : argv[1];
    if (first == "--version" && argc > 2)
        return answer_version({argv + 2, argv + argc}, session.out, session.err);
    if (first == "--version") {
        session.out << "keyhour " << version() << '\n';
        return answered;
    }
    ArgumentParser line{"keyhour", about, std::string{"keyhour "} + version()};
    offer_asked(first, line, session);
    if (argc < 2) {
        session.err << line.help();
        return wrong_usage;
    }
    const std::vector<std::string> names = line.command_names();
    if (!first.empty() && first.front() != '-' &&
        std::find(names.begin(), names.end(), first) == names.end())
        return unknown_command(first, names, session.err);
    if (const auto code =
            answer_what_if({argv + 1, argv + argc}, line.texts(), answer_one, session))
        return *code;
    if (const auto code = line.parse(argc, argv, session.out, session.err)) return *code;
    return session.exit_code;
}

}  // namespace

int run(int argc, const char* const* argv, std::istream& in, std::ostream& to_out,
        std::ostream& to_err) {
    words::GuardedStream out{to_out}, err{to_err};
    Session session{in, out, err};
    int code = bad_data;
    if (const auto thrown = thrown_by([&] { code = parse_and_answer(argc, argv, session); }))
        err << "keyhour: " << fault_words(thrown) << '\n';
    return code;
}

}  // namespace keyhour::cli
