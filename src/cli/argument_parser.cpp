#include "argument_parser.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <ostream>
#include <utility>

#include "app.hpp"
#include "keyhour/site/nearest.hpp"
#include "option_number.hpp"

namespace keyhour::cli {

namespace {

class ParserOption final : public Option {
public:
    explicit ParserOption(CLI::Option* option) : option_{option} {}

    Option* type_name(const std::string& shown) override {
        form_.type = shown;
        option_->type_name(shown);
        return this;
    }
    Option* group(const std::string& heading) override {
        option_->group(heading);
        return this;
    }
    Option* description(const std::string& text) override {
        option_->description(text);
        return this;
    }
    Option* required() override {
        option_->required();
        return this;
    }
    Option* delimiter(char between) override {
        option_->delimiter(between);
        return this;
    }
    Option* one_at_a_time() override {
        option_->type_size(1)->allow_extra_args(false);
        return this;
    }
    Option* range(std::int64_t least, std::int64_t most) override {
        form_.bounds = WholeBounds{least, static_cast<std::uint64_t>(most)};
        show("INT in [" + std::to_string(least) + " - " + std::to_string(most) + ']');
        return this;
    }
    Option* also(std::function<std::optional<double>(const std::string&)> notation) override {
        form_.also = std::move(notation);
        return this;
    }
    Option* excludes(Option* other) override {
        option_->excludes(static_cast<ParserOption*>(other)->option_);
        return this;
    }
    [[nodiscard]] bool is_given() const override { return option_->count() > 0; }
    [[nodiscard]] std::string name() const override { return option_->get_name(); }

    /// Shows a condition in the help; the number's reading sees to it.
    void show(const std::string& condition) {
        option_->check(CLI::Validator{[](std::string&) { return std::string{}; }, condition});
    }
    /// The text as a number of the variable's kind. A refusal becomes the parser's own.
    template <class T>
    [[nodiscard]] T number(const std::string& typed) const {
        const auto read = read_as<T>(form_, typed);
        if (!read) throw CLI::ValidationError{option_->get_name(), read.error()};
        return *read;
    }
    [[nodiscard]] CLI::Option* parsed() const { return option_; }
    void parse_by(CLI::Option* option) { option_ = option; }

private:
    CLI::Option* option_;
    NumberForm form_;
};

std::string true_or_false(std::string& text) {
    if (text == "true" || text == "false") return {};
    return '"' + text + "\" is neither true nor false; it takes no value";
}

class ParserOptions final : public Options {
public:
    explicit ParserOptions(CLI::App* command) : command_{command} {}

    Option* add_option(const std::string& name, std::string& value,
                       const std::string& text) override {
        return keep(command_->add_option(name, value, text));
    }
    Option* add_option(const std::string& name, std::vector<std::string>& values,
                       const std::string& text) override {
        return keep(command_->add_option(name, values, text));
    }
    Option* add_option(const std::string& name, double& value, const std::string& text) override {
        return add_number<double>(name, value, text);
    }
    Option* add_option(const std::string& name, std::optional<double>& value,
                       const std::string& text) override {
        return add_number<double>(name, value, text);
    }
    Option* add_option(const std::string& name, int& value, const std::string& text) override {
        return add_number<int>(name, value, text);
    }
    Option* add_option(const std::string& name, std::optional<int>& value,
                       const std::string& text) override {
        return add_number<int>(name, value, text);
    }
    Option* add_option(const std::string& name, std::optional<std::uint64_t>& value,
                       const std::string& text) override {
        ParserOption* added = add_number<std::uint64_t>(name, value, text);
        added->show("NONNEGATIVE");
        return added;
    }
    Option* add_flag(const std::string& name, bool& value, const std::string& text) override {
        Option* added = keep(command_->add_flag(name, value, text));
        options_.back()->parsed()->check(CLI::Validator{true_or_false, ""});
        return added;
    }

    [[nodiscard]] Option* get_option(const std::string& name) override {
        const auto at = std::find_if(options_.begin(), options_.end(),
                                     [&](const auto& option) { return option->name() == name; });
        return at == options_.end() ? nullptr : at->get();
    }
    void remove_option(Option* option) override {
        command_->remove_option(static_cast<ParserOption*>(option)->parsed());
        std::erase_if(options_, [&](const auto& kept) { return kept.get() == option; });
    }
    void footer(const std::string& text) override { command_->footer(text); }
    void callback(std::function<void()> answer) override { command_->callback(std::move(answer)); }

private:
    ParserOption* keep(CLI::Option* option) {
        options_.push_back(std::make_unique<ParserOption>(option));
        return options_.back().get();
    }
    template <class T, class Variable>
    ParserOption* add_number(const std::string& name, Variable& value, const std::string& text) {
        ParserOption* added = keep(nullptr);
        const auto take = [added, &value](const CLI::results_t& typed) {
            value = added->number<T>(typed.front());
            return true;
        };
        CLI::Option* option = command_->add_option(name, CLI::callback_t{take}, text);
        option->type_name(std::is_integral_v<T> ? "INT" : "FLOAT");
        added->parse_by(option);
        return added;
    }

    CLI::App* command_;
    std::vector<std::unique_ptr<ParserOption>> options_;
};

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

/// "--mark type case": a name with a blank lost its second word to the location.
std::string name_in_two_words(const CLI::App& command, const std::string& extra) {
    for (const CLI::Option* option : command.get_options()) {
        if (option->count() == 0 || option->get_type_name() != "NAME") continue;
        // Where the name came first, its second word was taken for the location.
        const CLI::Option* location = command.get_option_no_throw("location");
        const bool is_file = extra.find_first_of("./") != std::string::npos;
        const std::string second = is_file && location != nullptr && location->count() > 0
                                       ? location->as<std::string>()
                                       : extra;
        return fmt::format(
            "nothing expected after the location: \"{}\"; a name with a blank stands in quotes: "
            "{} \"{} {}\"",
            extra, option->get_name(), option->results().back(), second);
    }
    return {};
}

/// "key Tallow Lane.toml"
std::string file_in_two_words(const CLI::App& command, const std::string& extra) {
    const CLI::Option* location = command.get_option_no_throw("location");
    if (location == nullptr || location->count() == 0 || !extra.ends_with(".toml")) return {};
    const auto first = location->as<std::string>();
    if (first.ends_with(".toml")) return {};
    return fmt::format(
        "nothing expected after the location: \"{}\"; a name with a blank stands in quotes: "
        "\"{} {}\"",
        extra, first, extra);
}

std::string extra_word(const CLI::App& command, const std::string& extra) {
    if (extra.size() > 1 && extra.front() == '-')
        return "there is no option " + extra + nearest_option(command, extra);
    if (const std::string option = name_in_two_words(command, extra); !option.empty())
        return option;
    if (const std::string file = file_in_two_words(command, extra); !file.empty()) return file;
    return "nothing expected after the location: \"" + extra + '"';
}

/// The option that a message of the parser begins with.
const CLI::Option* named_in(const CLI::App& command, const std::string& message) {
    const std::string name = message.substr(0, message.find_first_of(": "));
    for (const CLI::Option* option : command.get_options())
        if (option->get_name() == name) return option;
    return nullptr;
}

/// The parser's complaint in words that say what to do.
std::string complaint(const CLI::App& command, const CLI::ParseError& error) {
    const std::string said = error.what();
    const auto extras = command.remaining();
    if (dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr && !extras.empty())
        return extra_word(command, extras.front());
    const CLI::Option* option = named_in(command, said);
    if (option == nullptr) return said;
    const std::string name = option->get_name();
    if (dynamic_cast<const CLI::RequiredError*>(&error) != nullptr)
        return name + " is missing: " + option->get_description();
    if (dynamic_cast<const CLI::ExcludesError*>(&error) != nullptr)
        return "give " + name + " or " + said.substr(said.rfind(' ') + 1) + ", not both";
    if (dynamic_cast<const CLI::ArgumentMismatch*>(&error) == nullptr) return said;
    if (said.ends_with(" missing"))
        return name + ": its value is missing: " + option->get_type_name() + ", " +
               option->get_description();
    return name + " is given more than once";
}

/// What its --help says, part by part.
tell::CommandText text_of(const CLI::App& command) {
    tell::CommandText text{
        command.get_name(), command.get_description(), "[OPTIONS]", {}, command.get_footer()};
    for (const CLI::Option* option : command.get_options()) {
        const bool bare = option->get_positional();
        if (bare) text.usage += ' ' + option->get_name(true);
        const bool is_usual = option->get_group() == "Options";
        text.entries.push_back({is_usual ? std::string{} : option->get_group(),
                                option->get_name(bare, true), option->get_type_name(),
                                option->get_description()});
    }
    return text;
}

int usage_error(const CLI::App& app, const CLI::ParseError& error, std::ostream& err) {
    const CLI::App& command = failing(app);
    const std::string called =
        &command == &app ? app.get_name() : app.get_name() + ' ' + command.get_name();
    err << called << ": " << complaint(command, error) << "\nrun \"" << called
        << " --help\" for what is accepted\n";
    return wrong_usage;
}

}  // namespace

struct ArgumentParser::Parts {
    CLI::App app;
    std::vector<std::unique_ptr<Options>> commands;
};

ArgumentParser::ArgumentParser(const std::string& name, const std::string& text,
                               const std::string& version)
    : parts_{std::make_unique<Parts>()} {
    CLI::App& app = parts_->app;
    app.name(name);
    app.description(text);
    app.set_version_flag("--version", version,
                         "what this is; with --verbose also the age of its data");
    app.require_subcommand(1);
    constexpr std::size_t names_and_types = 26;  // columns, of 80
    app.get_formatter()->column_width(names_and_types);
}

ArgumentParser::~ArgumentParser() = default;

Options* ArgumentParser::add_command(const std::string& name, const std::string& text) {
    parts_->commands.push_back(
        std::make_unique<ParserOptions>(parts_->app.add_subcommand(name, text)));
    return parts_->commands.back().get();
}

std::vector<std::string> ArgumentParser::command_names() const {
    std::vector<std::string> names;
    for (const CLI::App* command : parts_->app.get_subcommands({}))
        names.push_back(command->get_name());
    return names;
}

std::string ArgumentParser::help() const {
    return parts_->app.help();
}

std::string ArgumentParser::help(const std::string& command) const {
    const auto named = [&](const CLI::App* app) { return app->get_name() == command; };
    const auto commands = parts_->app.get_subcommands(named);
    return commands.empty() ? std::string{} : commands.front()->help(parts_->app.get_name());
}

std::string ArgumentParser::what() const {
    return parts_->app.get_description();
}

std::vector<tell::CommandText> ArgumentParser::texts() const {
    std::vector<tell::CommandText> out;
    for (const CLI::App* command : parts_->app.get_subcommands({}))
        out.push_back(text_of(*command));
    return out;
}

std::optional<int> ArgumentParser::parse(int argc, const char* const* argv, std::ostream& out,
                                         std::ostream& err) {
    CLI::App& app = parts_->app;
    try {
        app.parse(argc, argv);
    } catch (const CLI::Success& asked_for_help) {
        app.exit(asked_for_help, out, err);
        return answered;
    } catch (const CLI::ParseError& error) {
        return usage_error(app, error, err);
    }
    return std::nullopt;
}

}  // namespace keyhour::cli
