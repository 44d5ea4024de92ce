#include "what_if.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>
#include <sstream>

#include "change_option.hpp"
#include "failure.hpp"
#include "tell/variants_page.hpp"
#include "terminal.hpp"
#include "text.hpp"
#include "words/shown.hpp"

namespace keyhour::cli {
namespace {

constexpr std::size_t most_changed = 12;

/// One --if: what is changed, and the values that it takes.
struct Choice {
    std::string name;  // "window.north.cover=", "bearing+=", "key-angle="
    bool is_option = false, is_flag = false;
    Arguments values;

    [[nodiscard]] std::string told(std::size_t value) const {
        return is_flag ? name : name + values[value];
    }
};

struct Asked {
    Arguments kept;  // all but --if
    std::vector<Choice> choices;

    [[nodiscard]] bool has(const char* argument) const {
        return std::ranges::find(kept, argument) != kept.end();
    }
    [[nodiscard]] bool has_options() const {
        return std::ranges::any_of(choices, &Choice::is_option);
    }
    [[nodiscard]] std::size_t variants() const {
        std::size_t out = 1;
        for (const Choice& choice : choices)
            out = std::min(out * choice.values.size(), most_changed + 1);
        return out;
    }
};

/// Splits at a sign that stands in no quotes.
Arguments split(const std::string& text, char between) {
    Arguments out{""};
    bool quoted = false;
    for (const char c : text) {
        if (c == '"') quoted = !quoted;
        if (c == between && !quoted)
            out.emplace_back();
        else
            out.back() += c;
    }
    return out;
}

const tell::CommandText* text_of(const std::string& command,
                                 const std::vector<tell::CommandText>& commands) {
    const auto at = std::ranges::find(commands, command, &tell::CommandText::name);
    return at == commands.end() ? nullptr : &*at;
}

/// The option that a change names in place of a key of the file; null if it names none.
const tell::CommandText::Entry* option_named(std::string name, const tell::CommandText& command) {
    if (name.starts_with("--")) name.erase(0, 2);
    constexpr std::string_view never[] = {"if", "json", "csv", "line", "out", "force", "help"};
    if (std::ranges::find(never, name) != std::end(never)) return nullptr;
    const auto at =
        std::ranges::find(command.entries, "--" + name, &tell::CommandText::Entry::name);
    return at == command.entries.end() ? nullptr : &*at;
}

Answer<Choice> choice_of(const std::string& typed, const tell::CommandText& command) {
    Choice out;
    const std::size_t equals = split(typed, '=').front().size();
    const std::string name = typed.substr(0, equals);
    const auto* option = option_named(name, command);
    out.is_option = option != nullptr;
    if (equals == typed.size()) {
        out.is_flag = option && option->value.empty();
        out.name = typed;
        out.values = {""};
        if (option && !out.is_flag)
            return usage_failure(
                fmt::format("--if {0}: it says no value; accepted: {0}={1}", name, option->value));
        return out;  // what is wrong with it the file's reader tells
    }
    out.name = typed.substr(0, equals + 1);
    out.values = split(typed.substr(equals + 1), '|');
    if (out.values.size() > 1 && std::ranges::find(out.values, "") != out.values.end())
        return usage_failure(fmt::format(
            "--if {}: a value between the bars is empty; accepted: {}A|B|C", typed, out.name));
    return out;
}

/// @return nothing where there is no --if
Answer<std::optional<Asked>> asked_by(const Arguments& arguments,
                                      const std::vector<tell::CommandText>& commands) {
    const auto* command = arguments.empty() ? nullptr : text_of(arguments.front(), commands);
    if (!command) return std::nullopt;
    Asked out;
    const std::string inner = std::string{change_option} + '=';
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        std::string typed;
        if (arguments[i] == change_option && i + 1 < arguments.size())
            typed = arguments[++i];
        else if (arguments[i].starts_with(inner))
            typed = arguments[i].substr(inner.size());
        else {
            out.kept.push_back(arguments[i]);
            continue;
        }
        auto choice = choice_of(typed, *command);
        if (!choice) return tl::unexpected{choice.error()};
        out.choices.push_back(*std::move(choice));
    }
    if (out.choices.empty()) return std::nullopt;
    return out;
}

/// Without an option that a change gives anew.
void drop_option(Arguments& arguments, const std::string& option) {
    for (std::size_t i = 1; i < arguments.size();) {
        const bool joined = arguments[i].starts_with(option + '=');
        const std::size_t n = joined ? 1 : arguments[i] == option ? 2 : 0;
        if (n == 0) {
            ++i;
            continue;
        }
        const auto from = arguments.begin() + static_cast<std::ptrdiff_t>(i);
        arguments.erase(from,
                        from + static_cast<std::ptrdiff_t>(std::min(n, arguments.size() - i)));
    }
}

/// One combination of the choices' values.
struct Combination {
    Arguments arguments;
    std::string told;
};

/// @param number  counts the values of the last choice first
Combination combination(const Asked& asked, std::size_t number) {
    Combination out{asked.kept, {}};
    std::vector<std::size_t> values(asked.choices.size());
    for (std::size_t i = asked.choices.size(); i-- > 0;) {
        values[i] = number % asked.choices[i].values.size();
        number /= asked.choices[i].values.size();
    }
    for (std::size_t i = 0; i < asked.choices.size(); ++i) {
        const Choice& choice = asked.choices[i];
        const std::string told = choice.told(values[i]);
        out.told += fmt::format("{}{}", out.told.empty() ? "" : ", ", told);
        if (!choice.is_option) {
            out.arguments.insert(out.arguments.end(), {change_option, told});
            continue;
        }
        const std::string option = fmt::format(
            "--{}", split(choice.name.substr(choice.name.starts_with("--") ? 2 : 0), '=').front());
        if (!choice.is_flag) drop_option(out.arguments, option);
        out.arguments.push_back(choice.is_flag ? option : option + '=' + choice.values[values[i]]);
    }
    return out;
}

/// The command's document, or its exit code once `err` was told.
tl::expected<tell::Json, int> document_of(Arguments arguments, const RunCommand& run,
                                          Session& session) {
    arguments.emplace_back("--json");
    std::ostringstream out, err;
    Session inner{session.in, out, err, answered};
    const int code = run(arguments, inner);
    if (code != answered) {
        session.err << err.str();
        return tl::unexpected{code};
    }
    auto document = tell::Json::parse(out.str(), nullptr, false);
    if (!document.is_object()) {
        session.err << "--if: this question has no answer to lay beside another; give --if one "
                       "value, without --json\n";
        return tl::unexpected{static_cast<int>(wrong_usage)};
    }
    return document;
}

void print_head(const tell::Json& answer, std::ostream& out) {
    const char* name = answer.contains("shoot") ? "shoot" : "location";
    std::string head = answer.value(name, std::string{});
    if (const auto date = answer.find("date"); date != answer.end() && date->is_string())
        head += fmt::format("{}{}", head.empty() ? "" : ", ", date->get<std::string>());
    if (!head.empty()) print(out, {{words::escaped(head)}});
}

int answer_side_by_side(const Asked& asked, const RunCommand& run, Session& session) {
    const std::string& command = asked.kept.front();
    Asked bare = asked;
    std::erase_if(bare.kept, [](const std::string& argument) {
        return argument == "--json" || argument == "--csv" || argument == "--line";
    });
    std::vector<tell::Variant> variants;
    auto first = document_of(bare.kept, run, session);
    if (!first) return first.error();
    variants.push_back({{}, *std::move(first)});
    for (std::size_t i = 0; i < asked.variants(); ++i) {
        Combination of = combination(bare, i);
        auto document = document_of(std::move(of.arguments), run, session);
        if (!document) return document.error();
        variants.push_back({std::move(of.told), *std::move(document)});
    }
    if (asked.has("--json")) {
        tell::write(session.out, tell::variants_json(command, variants));
    } else if (asked.has("--csv")) {
        session.out << tell::variants_csv(command, variants);
    } else {
        print_head(variants.front().answer, session.out);
        for (const std::string& line :
             tell::variants_lines(command, variants, line_columns(session.out)))
            session.out << line << '\n';
    }
    return answered;
}

/// Commands whose answers can't stand side by side.
bool stands_alone(const std::string& command) {
    constexpr std::string_view alone[] = {"batch", "sheet", "sun"};
    return std::ranges::find(alone, command) != std::end(alone);
}

}  // namespace

std::optional<int> answer_what_if(const Arguments& arguments,
                                  const std::vector<tell::CommandText>& commands,
                                  const RunCommand& run, Session& session) {
    const auto read = asked_by(arguments, commands);
    if (!read) return report(read.error(), session.err);
    if (!*read) return std::nullopt;
    const Asked& asked = **read;
    const std::size_t variants = asked.variants();
    const bool alone = stands_alone(asked.kept.front());
    if (alone && variants > 1)
        return report(
            {wrong_usage, asked.kept.front() + " takes one value of each --if: ask once for each"},
            session.err);
    if (variants > most_changed)
        return report({wrong_usage, fmt::format("--if asks for more than {} answers: give fewer "
                                                "values",
                                                most_changed)},
                      session.err);
    const bool as_data = asked.has("--json") || asked.has("--csv");
    if (!alone && (variants > 1 || as_data)) return answer_side_by_side(asked, run, session);
    if (!asked.has_options()) return std::nullopt;
    const Combination only = combination(asked, 0);
    if (!as_data && !asked.has("--line"))
        print(session.out, {{fmt::format("what if {}", words::escaped(only.told))}});
    return run(only.arguments, session);
}

}  // namespace keyhour::cli
