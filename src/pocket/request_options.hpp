#pragma once
// A command's options read from the members of a request in place of arguments.

#include "cli/options.hpp"
#include "request.hpp"

namespace keyhour::pocket {

class RequestOptions;

/// The one command that a request is about.
class RequestLine final : public cli::CommandLine {
public:
    RequestLine();
    ~RequestLine() override;

    cli::Options* add_command(const std::string& name, const std::string& text) override;
    // No help is asked for here.
    [[nodiscard]] std::vector<std::string> command_names() const override { return {}; }
    [[nodiscard]] std::string help() const override { return {}; }
    [[nodiscard]] std::string help(const std::string&) const override { return {}; }
    [[nodiscard]] std::string what() const override { return {}; }
    [[nodiscard]] std::vector<tell::CommandText> texts() const override { return {}; }

    /// Sets the command's variables and calls it back. @pre the command was added
    /// @param members  options by their names without dashes
    /// @return what is wrong with the request; then nothing is called
    [[nodiscard]] Problems answer(const Json& members);

private:
    std::unique_ptr<RequestOptions> command_;
};

}  // namespace keyhour::pocket
