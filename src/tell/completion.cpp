#include "tell/completion.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace keyhour::tell {
namespace {

using Entry = CommandText::Entry;

bool is_option(const Entry& entry) {
    return entry.name.starts_with('-');
}

/// Names of files: what is shown for the value says so.
bool is_file(const Entry& entry) {
    return entry.value == "FILE" || entry.value == "FOLDER";
}

/// Text between single quotes, for any of the three shells.
std::string shell_quoted(const std::string& text) {
    std::string out = "'";
    for (const char c : text) {
        if (c == '\'')
            out += "'\\''";
        else
            out += c;
    }
    return out + "'";
}

std::string words_apart(const std::vector<std::string>& words) {
    return fmt::format("{}", fmt::join(words, " "));
}

std::vector<std::string> names(const std::vector<CommandText>& commands) {
    std::vector<std::string> out;
    for (const CommandText& c : commands)
        out.push_back(c.name);
    return out;
}

std::vector<std::string> help_words(const std::vector<CommandText>& commands,
                                    const std::vector<std::string>& topics) {
    std::vector<std::string> out = topics;
    for (const CommandText& c : commands)
        if (std::ranges::find(out, c.name) == out.end()) out.push_back(c.name);
    return out;
}

std::string for_bash(const std::vector<CommandText>& commands,
                     const std::vector<std::string>& topics) {
    std::string out =
        "# Completion of keyhour for bash; written by \"keyhour help --completion bash\".\n"
        "_keyhour() {\n"
        "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} words= "
        "values=\n"
        "    COMPREPLY=()\n"
        "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n";
    out += fmt::format("        words={}\n",
                       shell_quoted(words_apart(names(commands)) + " --help --version"));
    out +=
        "        COMPREPLY=($(compgen -W \"$words\" -- \"$word\"))\n"
        "        return\n"
        "    fi\n"
        "    case ${COMP_WORDS[1]} in\n";
    for (const CommandText& c : commands) {
        std::vector<std::string> options, with_value;
        for (const Entry& e : c.entries) {
            if (!is_option(e)) continue;
            options.push_back(e.name);
            if (!e.value.empty() && !is_file(e)) with_value.push_back(e.name);
        }
        const std::string values =
            with_value.empty() ? "" : " values=' " + words_apart(with_value) + " '";
        const auto words = c.name == "help" ? help_words(commands, topics) : options;
        out += fmt::format("        {}) words='{}'{} ;;\n", c.name, words_apart(words), values);
    }
    out +=
        "    esac\n"
        "    case $values in *\" $before \"*) return ;; esac\n"
        "    case ${COMP_WORDS[1]}$word in\n"
        "        help*|*-*) COMPREPLY=($(compgen -W \"$words\" -- \"$word\")) ;;\n"
        "    esac\n"
        "    [ ${#COMPREPLY[@]} -gt 0 ] || COMPREPLY=($(compgen -f -- \"$word\"))\n"
        "}\n"
        "complete -o filenames -F _keyhour keyhour\n";
    return out;
}

/// "--near[other sun this near needs a cover]:M:"
std::string zsh_option(const Entry& entry) {
    std::string text = entry.text;
    for (const char c : {'[', ']', ':'})
        std::ranges::replace(text, c, c == ':' ? ',' : ' ');
    std::string out = fmt::format("{}[{}]", entry.name, text);
    if (!entry.value.empty())
        out += fmt::format(":{}:{}", entry.value, is_file(entry) ? "_files" : " ");
    return shell_quoted(out);
}

std::string for_zsh(const std::vector<CommandText>& commands,
                    const std::vector<std::string>& topics) {
    std::string out =
        "#compdef keyhour\n"
        "# Completion of keyhour for zsh; written by \"keyhour help --completion zsh\".\n"
        "_keyhour() {\n"
        "    local -a commands\n"
        "    if (( CURRENT == 2 )); then\n"
        "        commands=(\n";
    for (const CommandText& c : commands)
        out += fmt::format("            {}\n", shell_quoted(c.name + ":" + c.summary));
    out +=
        "        )\n"
        "        _describe command commands\n"
        "        return\n"
        "    fi\n"
        "    local command=$words[2]\n"
        "    shift words\n"
        "    (( CURRENT-- ))\n"
        "    case $command in\n";
    for (const CommandText& c : commands) {
        out += fmt::format("        {})\n            ", c.name);
        if (c.name == "help") {
            out += fmt::format("compadd {} ;;\n", words_apart(help_words(commands, topics)));
            continue;
        }
        out += "_arguments";
        for (const Entry& e : c.entries)
            if (is_option(e)) out += " \\\n                " + zsh_option(e);
        out += " \\\n                '*:file:_files' ;;\n";
    }
    out +=
        "    esac\n"
        "}\n"
        "_keyhour \"$@\"\n";
    return out;
}

/// fish reads \ and ' in single quotes as \\ and \'.
std::string fish_quoted(const std::string& text) {
    std::string out = "'";
    for (const char c : text) {
        if (c == '\'' || c == '\\') out += '\\';
        out += c;
    }
    return out + "'";
}

std::string for_fish(const std::vector<CommandText>& commands,
                     const std::vector<std::string>& topics) {
    std::string out =
        "# Completion of keyhour for fish; written by \"keyhour help --completion fish\".\n";
    for (const CommandText& c : commands)
        out += fmt::format("complete -c keyhour -f -n __fish_use_subcommand -a {} -d {}\n", c.name,
                           fish_quoted(c.summary));
    for (const CommandText& c : commands)
        for (const Entry& e : c.entries) {
            if (!is_option(e)) continue;
            const bool is_long = e.name.starts_with("--");
            out += fmt::format(
                "complete -c keyhour -n '__fish_seen_subcommand_from {}' -{} {}{} -d {}\n", c.name,
                is_long ? "l" : "s", e.name.substr(is_long ? 2 : 1),
                e.value.empty() ? ""
                : is_file(e)    ? " -r -F"
                                : " -x",
                fish_quoted(e.text));
        }
    out += fmt::format("complete -c keyhour -f -n '__fish_seen_subcommand_from help' -a '{}'\n",
                       words_apart(help_words(commands, topics)));
    return out;
}

}  // namespace

std::string completion(Shell shell, const std::vector<CommandText>& commands,
                       const std::vector<std::string>& topics) {
    switch (shell) {
        case Shell::bash:
            return for_bash(commands, topics);
        case Shell::zsh:
            return for_zsh(commands, topics);
        case Shell::fish:
            return for_fish(commands, topics);
    }
    return {};
}

}  // namespace keyhour::tell
