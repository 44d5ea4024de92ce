#pragma once
// A command's options: all that its file sees of whoever reads them, the arguments' parser
// (argument_parser.hpp) or a page's request (pocket/request_options.hpp). What is given wrongly is
// answered with the option, what was found and what is accepted.

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "tell/man_page.hpp"

namespace keyhour::cli {

/// One option or positional argument of a command. It lives as long as its CommandLine.
class Option {
public:
    Option() = default;
    Option(const Option&) = delete;
    Option& operator=(const Option&) = delete;
    virtual ~Option() = default;

    /// Shown for its value in the help: "FILE", "M", "MIN". Messages say the unit in words.
    virtual Option* type_name(const std::string& shown) = 0;
    virtual Option* group(const std::string& heading) = 0;
    virtual Option* description(const std::string& text) = 0;
    virtual Option* required() = 0;
    /// Of a list: also "a,b" in one argument.
    virtual Option* delimiter(char between) = 0;
    /// Of a list: a second value needs the option's name again.
    virtual Option* one_at_a_time() = 0;
    /// Of whole numbers: bounds, inclusive, shown in the help.
    virtual Option* range(std::int64_t least, std::int64_t most) = 0;
    /// Of numbers: another way to write one, such as "4:1"; asked where the text is no number.
    virtual Option* also(std::function<std::optional<double>(const std::string&)> notation) = 0;
    /// Not together with the other.
    virtual Option* excludes(Option* other) = 0;

    [[nodiscard]] virtual bool is_given() const = 0;
    /// "--near"
    [[nodiscard]] virtual std::string name() const = 0;
};

/// The options of one command. A variable keeps its value where its option is not given.
/// Numbers are decimal, whole where the variable is; "nan", "inf" and "0x10" are none.
class Options {
public:
    Options() = default;
    Options(const Options&) = delete;
    Options& operator=(const Options&) = delete;
    virtual ~Options() = default;

    /// @param name  "--near", "-o", or a bare word for a positional argument
    virtual Option* add_option(const std::string& name, std::string& value,
                               const std::string& text) = 0;
    virtual Option* add_option(const std::string& name, std::vector<std::string>& values,
                               const std::string& text) = 0;
    virtual Option* add_option(const std::string& name, double& value, const std::string& text) = 0;
    virtual Option* add_option(const std::string& name, std::optional<double>& value,
                               const std::string& text) = 0;
    virtual Option* add_option(const std::string& name, int& value, const std::string& text) = 0;
    virtual Option* add_option(const std::string& name, std::optional<int>& value,
                               const std::string& text) = 0;
    /// No negative number, which the help shows.
    virtual Option* add_option(const std::string& name, std::optional<std::uint64_t>& value,
                               const std::string& text) = 0;
    virtual Option* add_flag(const std::string& name, bool& value, const std::string& text) = 0;

    /// One that was added, such as by options shared between commands.
    [[nodiscard]] virtual Option* get_option(const std::string& name) = 0;
    virtual void remove_option(Option* option) = 0;

    /// What stands below the options in the help.
    virtual void footer(const std::string& text) = 0;
    /// Called once all options are read without a fault.
    virtual void callback(std::function<void()> answer) = 0;
};

/// Commands, each with its options.
class CommandLine {
public:
    CommandLine() = default;
    CommandLine(const CommandLine&) = delete;
    CommandLine& operator=(const CommandLine&) = delete;
    virtual ~CommandLine() = default;

    virtual Options* add_command(const std::string& name, const std::string& text) = 0;

    [[nodiscard]] virtual std::vector<std::string> command_names() const = 0;
    [[nodiscard]] virtual std::string help() const = 0;
    /// What the command's --help prints; empty for an unknown one.
    [[nodiscard]] virtual std::string help(const std::string& command) const = 0;
    /// What the program is for, in a sentence or two.
    [[nodiscard]] virtual std::string what() const = 0;
    /// Every command with its options, in the order in which they were added.
    [[nodiscard]] virtual std::vector<tell::CommandText> texts() const = 0;
};

}  // namespace keyhour::cli
