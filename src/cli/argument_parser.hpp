#pragma once
// The options as arguments of the program: the one place that knows the parser, which is compiled
// once (argument_parser.cpp).

#include <iosfwd>

#include "options.hpp"

namespace keyhour::cli {

class ArgumentParser final : public CommandLine {
public:
    struct Parts;
    ArgumentParser(const std::string& name, const std::string& text, const std::string& version);
    ~ArgumentParser() override;

    Options* add_command(const std::string& name, const std::string& text) override;
    [[nodiscard]] std::vector<std::string> command_names() const override;
    [[nodiscard]] std::string help() const override;
    [[nodiscard]] std::string help(const std::string& command) const override;
    [[nodiscard]] std::string what() const override;
    [[nodiscard]] std::vector<tell::CommandText> texts() const override;

    /// Reads the arguments and calls the command's callback.
    /// @param out  for the help, where it is asked for
    /// @return an exit code where no command was called: help was asked for, or usage was wrong
    std::optional<int> parse(int argc, const char* const* argv, std::ostream& out,
                             std::ostream& err);

private:
    std::unique_ptr<Parts> parts_;
};

}  // namespace keyhour::cli
