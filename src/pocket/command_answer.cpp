#include "command_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <sstream>
#include <string_view>

#include "cli/app.hpp"
#include "cli/command.hpp"
#include "cli/command_lamp.hpp"
#include "cli/terminal.hpp"
#include "request_options.hpp"
#include "tell/variants_page.hpp"
#include "words/guarded_stream.hpp"

namespace keyhour::pocket {
namespace {

struct Question {
    const char* ask;
    const char* command;
    void (*offer)(cli::CommandLine&, cli::Session&);
};
constexpr std::array kQuestions{
    Question{"key", "key", cli::offer_key},
    Question{"lamp key", "key", cli::offer_key},
    Question{"year", "key", cli::offer_key},
    Question{"measure next", "key", cli::offer_key},
    Question{"lock", "lock", cli::offer_lock},
    Question{"lamp", "lamp", cli::offer_lamp},
    Question{"exterior", "exterior", cli::offer_exterior},
    Question{"day", "day", cli::offer_day},
    Question{"patch", "patch", cli::offer_patch},
    Question{"bearing", "bearing", cli::offer_bearing},
    Question{"check", "check", cli::offer_check},
};

const Question& question_of(const std::string& ask) {
    return *std::ranges::find(kQuestions, ask, &Question::ask);
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        lines.push_back(text.substr(at, end - at));
        at = end + 1;
    }
    return lines;
}

/// "shadow from=2.2,0.3 ...": a line of observations is an option of the bearing by its kind.
Problems by_kind(Json& options) {
    const auto given = options.find("observations");
    if (given == options.end() || !given->is_array()) return {};  // a text: a file handed over
    const auto lines = texts_of("observations", *given);
    if (!lines) return lines.error();
    options.erase(given);
    constexpr std::array<std::string_view, 7> kinds{"compass", "map",        "graze",     "shadow",
                                                    "corner",  "other wall", "other-wall"};
    Problems problems;
    for (std::size_t i = 0; i < lines->size(); ++i) {
        const std::string& line = (*lines)[i];
        const auto kind = std::ranges::find_if(kinds, [&](std::string_view known) {
            return line.starts_with(known) && line.size() > known.size() &&
                   line[known.size()] == ' ';
        });
        if (kind == kinds.end()) {
            problems.push_back({static_cast<int>(i) + 1, 0, "observations",
                                fmt::format("observation {}: begins with none of {}", i + 1,
                                            fmt::join(kinds.begin(), kinds.end() - 1, ", "))});
            continue;
        }
        Json& list = options[*kind == "other wall" ? "other-wall" : std::string{*kind}];
        if (!list.is_array()) list = Json::array();
        list.push_back(line.substr(kind->size() + 1));
    }
    return problems;
}

void rename(Json& options, const char* from, const char* to) {
    const auto at = options.find(from);
    if (at == options.end()) return;
    Json value = std::move(*at);
    options.erase(at);
    options[to] = std::move(value);
}

/// "date" alone is one date; with "to" a range begins there.
void set_dates(Json& options) {
    if (options.contains("to") && !options.contains("from")) rename(options, "date", "from");
}

void set_year(Json& options) {
    const auto date = options.find("date");
    if (date == options.end() || !date->is_string()) return;
    const std::string year = date->get<std::string>().substr(0, 4);
    options.erase(date);
    options["from"] = year + "-01-01";
    options["to"] = year + "-12-31";
}

void set_show(Json& options) {
    const auto show = options.find("show");
    if (show == options.end()) return;
    const auto words = texts_of("show", *show);
    if (words) *show = fmt::format("{}", fmt::join(*words, ","));
}

/// The command's options by their own names.
Reply<Json> options_of(const Request& request) {
    Json options = request.options;
    if (options.contains("json") || options.contains("write"))
        return refused("", "a request asks for no form of its answer, and writes no file");
    if (auto problems = by_kind(options); !problems.empty()) return tl::unexpected{problems};
    if (request.ask == "lamp key") options["by"] = "lamp";
    if (request.ask == "measure next") options["why-unsure"] = true;
    if (request.ask == "year")
        set_year(options);
    else
        set_dates(options);
    if (request.ask == "lock") rename(options, "lock", "minutes");
    set_show(options);
    if (!request.location.empty()) options["location"] = request.name;
    return options;
}

/// "--coverage 0: accepted: ..." is about the field "coverage".
Problems refusal(const std::string& said) {
    std::string text = said.substr(0, said.find_last_not_of('\n') + 1);
    std::string field;
    if (text.starts_with("--"))
        field = field_of_option(text.substr(0, std::min(text.find_first_of(": "), text.size())));
    return {{0, 0, std::move(field), std::move(text)}};
}

/// What the command prints.
Reply<std::string> printed(const Question& question, const Json& options, std::size_t columns) {
    std::istringstream in;
    std::ostringstream out, err;
    cli::set_line_columns(out, columns);
    words::GuardedStream guarded_out{out}, guarded_err{err};
    cli::Session session{in, guarded_out, guarded_err, cli::answered};
    RequestLine line;
    question.offer(line, session);
    if (auto problems = line.answer(options); !problems.empty()) return tl::unexpected{problems};
    guarded_out.flush();
    guarded_err.flush();
    if (session.exit_code != cli::answered) return tl::unexpected{refusal(err.str())};
    return out.str();
}

Reply<std::string> document_of(const Question& question, Json options, std::size_t columns) {
    options["json"] = true;
    for (const char* of_lines : {"line", "draw", "ascii"})
        options.erase(of_lines);
    auto text = printed(question, options, columns);
    if (text) text->erase(text->find_last_not_of('\n') + 1);
    return text;
}

/// With the changes beside the location as it is.
Reply<CommandAnswer> answer_beside(const Question& question, const Json& options,
                                   const Request& request) {
    Json changed = options;
    changed["if"] = request.changes;
    std::vector<tell::Variant> variants;
    std::string changes = fmt::format("{}", fmt::join(request.changes, ", "));
    for (const Json* asked : {&options, static_cast<const Json*>(&changed)}) {
        const auto text = document_of(question, *asked, request.columns);
        if (!text) return tl::unexpected{text.error()};
        variants.push_back(
            {asked == &options ? std::string{} : changes, Json::parse(*text, nullptr, false)});
    }
    CommandAnswer out;
    out.lines = tell::variants_lines(question.command, variants, request.columns);
    if (request.document)
        out.document = tell::json_text(tell::variants_json(question.command, variants));
    return out;
}

}  // namespace

bool is_command(const std::string& ask) {
    return std::ranges::find(kQuestions, ask, &Question::ask) != kQuestions.end();
}

std::vector<std::string> command_questions() {
    std::vector<std::string> names;
    for (const Question& question : kQuestions)
        names.emplace_back(question.ask);
    return names;
}

Reply<CommandAnswer> answer_by_command(const Request& request) {
    const Question& question = question_of(request.ask);
    auto options = options_of(request);
    if (!options) return tl::unexpected{options.error()};
    if (request.beside && !request.changes.empty())
        return answer_beside(question, *options, request);
    if (!request.changes.empty()) (*options)["if"] = request.changes;
    CommandAnswer out;
    if (request.lines) {
        const auto text = printed(question, *options, request.columns);
        if (!text) return tl::unexpected{text.error()};
        out.lines = lines_of(*text);
    }
    if (request.document) {
        auto text = document_of(question, *std::move(options), request.columns);
        if (!text) return tl::unexpected{text.error()};
        out.document = *std::move(text);
    }
    return out;
}

}  // namespace keyhour::pocket
