#include "command_help.hpp"

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <memory>
#include <ostream>

#include "failure.hpp"
#include "file/atomic_file.hpp"
#include "keyhour/site/nearest.hpp"
#include "keyhour/site/quoted.hpp"
#include "keyhour/version.hpp"
#include "manual_page.hpp"
#include "tell/completion.hpp"
#include "tell/man_page.hpp"
#include "tell/manual.hpp"
#include "text.hpp"

namespace keyhour::cli {
namespace {

struct HelpRequest {
    std::string word, man, completion;
};

/// What can be asked about.
struct Manual {
    const CommandLine& line;
    std::vector<tell::Topic> topics = tell::manual_topics();

    [[nodiscard]] const tell::Topic* topic(const std::string& word) const {
        const auto at = std::ranges::find_if(topics, [&](const tell::Topic& t) {
            return t.name == word || std::ranges::find(t.other_names, word) != t.other_names.end();
        });
        return at == topics.end() ? nullptr : &*at;
    }
    [[nodiscard]] std::vector<std::string> words() const {
        std::vector<std::string> out = line.command_names();
        for (const tell::Topic& t : topics) {
            out.push_back(t.name);
            out.insert(out.end(), t.other_names.begin(), t.other_names.end());
        }
        return out;
    }
};

void print_list(const Manual& manual, std::ostream& out) {
    std::vector<std::vector<std::string>> rows;
    out << "Topics: keyhour help TOPIC, a page at a time | less\n";
    const std::vector<std::string> commands = manual.line.command_names();
    for (const tell::Topic& t : manual.topics)  // those of a command stand with it
        if (std::ranges::find(commands, t.name) == commands.end())
            rows.push_back({t.name, t.summary});
    print_pairs(rows, 2, out);
    rows.clear();
    out << "\nCommands: keyhour help COMMAND, or keyhour COMMAND --help\n";
    for (const tell::CommandText& c : manual.line.texts())
        rows.push_back({c.name, c.summary});
    print_pairs(rows, 2, out);
}

int unknown_word(const Manual& manual, const std::string& word, std::ostream& err) {
    err << "keyhour help: there is no topic or command \"" << word << '"';
    if (const auto suggestion = site::nearest(word, manual.words()))
        err << "; did you mean \"" << *suggestion << "\"?";
    err << "\ntopics:";
    for (const tell::Topic& t : manual.topics)
        err << ' ' << t.name;
    err << "\nrun \"keyhour help\" for what they tell\n";
    return wrong_usage;
}

/// A page that a build wrote before, or none at all: what else stands there stays.
bool may_replace(const std::string& path) {
    if (!std::filesystem::exists(path)) return true;
    std::ifstream in{path};
    std::string head;
    std::getline(in, head);
    return head.starts_with(tell::man_page_begins);
}

Answer<void> put(const std::string& path, const std::string& text) {
    if (!may_replace(path)) return data_failure(path + ": exists, and is no page of keyhour's");
    auto file = file::AtomicFile::create(path, file::AtomicFile::Existing::replace);
    if (!file) return data_failure(file.error());
    file->stream() << text;
    if (const auto done = file->commit(); !done) return data_failure(done.error());
    return {};
}

/// For the build: one page a command and a topic.
Answer<void> write_man_pages(const Manual& manual, const std::string& folder) {
    const std::string release = version();
    const auto commands = manual.line.texts();
    auto done = put(folder + "/keyhour.1",
                    tell::man_page(manual.line.what(), commands, manual.topics, release));
    for (const tell::CommandText& c : commands)
        if (done) done = put(folder + "/keyhour-" + c.name + ".1", tell::man_page(c, release));
    for (const tell::Topic& t : manual.topics)
        if (done) done = put(folder + "/keyhour-" + t.name + ".7", tell::man_page(t, release));
    return done;
}

Answer<void> print_completion(const Manual& manual, const std::string& shell, std::ostream& out) {
    const std::array shells{std::pair{"bash", tell::Shell::bash},
                            std::pair{"zsh", tell::Shell::zsh},
                            std::pair{"fish", tell::Shell::fish}};
    const auto* const known =
        std::ranges::find_if(shells, [&](const auto& s) { return shell == s.first; });
    if (known == shells.end())
        return usage_failure("--completion " + site::quoted(shell) + ": accepted: bash, zsh, fish");
    std::vector<std::string> topics;
    for (const tell::Topic& t : manual.topics)
        topics.push_back(t.name);
    out << tell::completion(known->second, manual.line.texts(), topics);
    return {};
}

int answer_help(const HelpRequest& request, const CommandLine& line, std::ostream& out,
                std::ostream& err) {
    const Manual manual{line};
    if (!request.man.empty()) {
        const auto done = write_man_pages(manual, request.man);
        return done ? answered : report(done.error(), err);
    }
    if (!request.completion.empty()) {
        const auto done = print_completion(manual, request.completion, out);
        return done ? answered : report(done.error(), err);
    }
    if (request.word.empty()) {
        print_list(manual, out);
        return answered;
    }
    const tell::Topic* topic = manual.topic(request.word);
    const auto names = line.command_names();
    const bool command = std::ranges::find(names, request.word) != names.end();
    if (topic == nullptr && !command) return unknown_word(manual, request.word, err);
    if (topic != nullptr) print(*topic, out);
    if (topic != nullptr && command) out << "\nOPTIONS OF THE COMMAND\n";
    if (command) out << line.help(request.word);
    return answered;
}

}  // namespace

void offer_help(CommandLine& line, Session& session) {
    auto request = std::make_shared<HelpRequest>();
    Options* command = line.add_command("help", "the manual: topics, and each command's options");
    command->add_option("topic", request->word, "a topic or a command (default: list them)");
    command->add_option("--man", request->man, "write all as manual pages into this folder")
        ->type_name("FOLDER");
    command->add_option("--completion", request->completion, "script for bash, zsh or fish")
        ->type_name("SHELL");
    command->footer(
        "example:\n"
        "  keyhour help location\n"
        "  keyhour help key\n"
        "  keyhour help doubt | less");
    command->callback([request, &line, &session] {
        session.exit_code = answer_help(*request, line, session.out, session.err);
    });
}

}  // namespace keyhour::cli
