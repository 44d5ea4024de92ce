#pragma once
// The command line's options: all that a command's file sees of the parser, so that the parser is
// compiled once (options.cpp). What is typed wrongly is answered with the option, what was found
// and what is accepted.

#include <cstdint>
#include <functional>
#include <iosfwd>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "tell/man_page.hpp"

namespace keyhour::cli {

/// One option or positional argument of a command. It lives as long as its CommandLine.
class Option {
public:
    struct Parts;
    explicit Option(std::unique_ptr<Parts> parts);
    ~Option();

    /// Shown for its value in the help: "FILE", "M", "MIN". Messages say the unit in words.
    Option* type_name(const std::string& shown);
    Option* group(const std::string& heading);
    Option* description(const std::string& text);
    Option* required();
    /// Of a list: also "a,b" in one argument.
    Option* delimiter(char between);
    /// Of a list: a second value needs the option's name again.
    Option* one_at_a_time();
    /// Of whole numbers: bounds, inclusive, shown in the help.
    Option* range(std::int64_t least, std::int64_t most);
    /// Of numbers: another way to write one, such as "4:1"; asked where the text is no number.
    Option* also(std::function<std::optional<double>(const std::string&)> notation);
    /// Not together with the other.
    Option* excludes(Option* other);

    /// Was it on the command line?
    [[nodiscard]] bool is_given() const;
    /// "--near"
    [[nodiscard]] std::string name() const;

private:
    friend class Options;
    friend class CommandLine;
    std::unique_ptr<Parts> parts_;
};

/// The options of one command. A variable keeps its value where its option is not given.
/// Numbers are decimal, whole where the variable is; "nan", "inf" and "0x10" are none.
class Options {
public:
    struct Parts;
    explicit Options(std::unique_ptr<Parts> parts);
    ~Options();

    /// @param name  "--near", "-o", or a bare word for a positional argument
    Option* add_option(const std::string& name, std::string& value, const std::string& text);
    Option* add_option(const std::string& name, std::vector<std::string>& values,
                       const std::string& text);
    Option* add_option(const std::string& name, double& value, const std::string& text);
    Option* add_option(const std::string& name, std::optional<double>& value,
                       const std::string& text);
    Option* add_option(const std::string& name, int& value, const std::string& text);
    Option* add_option(const std::string& name, std::optional<int>& value, const std::string& text);
    /// No negative number, which the help shows.
    Option* add_option(const std::string& name, std::optional<std::uint64_t>& value,
                       const std::string& text);
    Option* add_flag(const std::string& name, bool& value, const std::string& text);

    /// One that was added, such as by options shared between commands.
    [[nodiscard]] Option* get_option(const std::string& name);
    void remove_option(Option* option);

    /// What stands below the options in the help.
    void footer(const std::string& text);
    /// Called once the command line is read without a fault.
    void callback(std::function<void()> answer);

private:
    friend class CommandLine;
    std::unique_ptr<Parts> parts_;
};

/// The whole program's command line: commands, each with its options.
class CommandLine {
public:
    struct Parts;
    CommandLine(const std::string& name, const std::string& text, const std::string& version);
    ~CommandLine();

    Options* add_command(const std::string& name, const std::string& text);

    [[nodiscard]] std::vector<std::string> command_names() const;
    [[nodiscard]] std::string help() const;
    /// What the command's --help prints; empty for an unknown one.
    [[nodiscard]] std::string help(const std::string& command) const;
    /// What the program is for, in a sentence or two.
    [[nodiscard]] std::string what() const;
    /// Every command with its options, in the order in which they were added.
    [[nodiscard]] std::vector<tell::CommandText> texts() const;

    /// Reads the arguments and calls the command's callback.
    /// @param out  for the help, where it is asked for
    /// @return an exit code where no command was called: help was asked for, or usage was wrong
    std::optional<int> parse(int argc, const char* const* argv, std::ostream& out,
                             std::ostream& err);

private:
    std::unique_ptr<Parts> parts_;
};

}  // namespace keyhour::cli
