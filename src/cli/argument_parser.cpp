#include "options.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <limits>
#include <ostream>
#include <string_view>
#include <utility>

#include "app.hpp"
#include "keyhour/site/nearest.hpp"
#include "numbers.hpp"
#include "quantity.hpp"

namespace keyhour::cli {

struct Option::Parts {
    CLI::Option* option = nullptr;
    std::string type;  // as the help shows it
    std::optional<WholeBounds> bounds;
    std::function<std::optional<double>(const std::string&)> also;
};

struct Options::Parts {
    CLI::App* command;
    std::vector<std::unique_ptr<Option>> options;

    Option::Parts& add() {
        auto parts = std::make_unique<Option::Parts>();
        Option::Parts& added = *parts;
        options.push_back(std::make_unique<Option>(std::move(parts)));
        return added;
    }
    [[nodiscard]] Option* last() const { return options.back().get(); }
};

struct CommandLine::Parts {
    CLI::App app;
    std::vector<std::unique_ptr<Options>> commands;
};

namespace {

/// The unit behind what the help shows for a value; empty if it has none.
std::string_view unit_of(std::string_view shown) {
    constexpr std::array<std::pair<std::string_view, std::string_view>, 11> units{
        {{"M", "metres"},
         {"MM", "millimetres"},
         {"MIN", "minutes"},
         {"S", "seconds"},
         {"DEG", "degrees"},
         {"DEGREES", "degrees"},
         {"PERCENT", "percent"},
         {"LX", "lux"},
         {"KM/H", "kilometres an hour"},
         {"FPS", "frames a second"},
         {"STOPS", "stops"}}};
    const auto* at = std::find_if(units.begin(), units.end(),
                                  [&](const auto& unit) { return unit.first == shown; });
    return at == units.end() ? std::string_view{} : at->second;
}

/// In the option's own other notation, or with its unit: as a number alone, so that one reading
/// tells what is wrong with it. The text itself if it is neither.
std::string as_number(const Option::Parts& parts, const std::string& text) {
    std::optional<double> value = read_with_unit(text, parts.type);
    if (!value && parts.also) value = parts.also(text);
    return value ? fmt::format("{}", *value) : text;
}

/// The text as a number of the variable's kind. A refusal becomes the parser's own.
template <class T>
T read_as(const Option::Parts& parts, const std::string& typed) {
    const std::string text = as_number(parts, typed);
    const std::string_view unit = unit_of(parts.type);
    std::string why;
    if constexpr (std::is_floating_point_v<T>) {
        const auto number = read_number(text, unit);
        if (number) return *number;
        why = number.error();
    } else {
        const WholeBounds bounds = parts.bounds.value_or(WholeBounds{
            std::numeric_limits<T>::min(), std::uint64_t{std::numeric_limits<T>::max()}});
        const auto number = read_whole_number(text, unit, bounds);
        if (number) return static_cast<T>(*number);
        why = number.error();
    }
    throw CLI::ValidationError{parts.option->get_name(), why};
}

template <class T, class Variable>
Option* add_number(Options::Parts& command, const std::string& name, Variable& value,
                   const std::string& text) {
    constexpr bool is_whole = std::is_integral_v<T>;
    Option::Parts& added = command.add();
    const auto take = [&added, &value](const CLI::results_t& typed) {
        value = read_as<T>(added, typed.front());
        return true;
    };
    added.option = command.command->add_option(name, CLI::callback_t{take}, text);
    added.option->type_name(is_whole ? "INT" : "FLOAT");
    return command.last();
}

/// Shows a condition in the help; the number's reading sees to it.
void show(CLI::Option& option, const std::string& condition) {
    option.check(CLI::Validator{[](std::string&) { return std::string{}; }, condition});
}

std::string true_or_false(std::string& text) {
    if (text == "true" || text == "false") return {};
    return '"' + text + "\" is neither true nor false; it takes no value";
}

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

Option::Option(std::unique_ptr<Parts> parts) : parts_{std::move(parts)} {}
Option::~Option() = default;

Option* Option::type_name(const std::string& shown) {
    parts_->type = shown;
    parts_->option->type_name(shown);
    return this;
}

Option* Option::group(const std::string& heading) {
    parts_->option->group(heading);
    return this;
}

Option* Option::description(const std::string& text) {
    parts_->option->description(text);
    return this;
}

Option* Option::required() {
    parts_->option->required();
    return this;
}

Option* Option::delimiter(char between) {
    parts_->option->delimiter(between);
    return this;
}

Option* Option::one_at_a_time() {
    parts_->option->type_size(1)->allow_extra_args(false);
    return this;
}

Option* Option::range(std::int64_t least, std::int64_t most) {
    parts_->bounds = WholeBounds{least, static_cast<std::uint64_t>(most)};
    show(*parts_->option, "INT in [" + std::to_string(least) + " - " + std::to_string(most) + ']');
    return this;
}

Option* Option::also(std::function<std::optional<double>(const std::string&)> notation) {
    parts_->also = std::move(notation);
    return this;
}

Option* Option::excludes(Option* other) {
    parts_->option->excludes(other->parts_->option);
    return this;
}

bool Option::is_given() const {
    return parts_->option->count() > 0;
}

std::string Option::name() const {
    return parts_->option->get_name();
}

Options::Options(std::unique_ptr<Parts> parts) : parts_{std::move(parts)} {}
Options::~Options() = default;

Option* Options::add_option(const std::string& name, std::string& value, const std::string& text) {
    Option::Parts& added = parts_->add();
    added.option = parts_->command->add_option(name, value, text);
    return parts_->last();
}

Option* Options::add_option(const std::string& name, std::vector<std::string>& values,
                            const std::string& text) {
    Option::Parts& added = parts_->add();
    added.option = parts_->command->add_option(name, values, text);
    return parts_->last();
}

Option* Options::add_option(const std::string& name, double& value, const std::string& text) {
    return add_number<double>(*parts_, name, value, text);
}

Option* Options::add_option(const std::string& name, std::optional<double>& value,
                            const std::string& text) {
    return add_number<double>(*parts_, name, value, text);
}

Option* Options::add_option(const std::string& name, int& value, const std::string& text) {
    return add_number<int>(*parts_, name, value, text);
}

Option* Options::add_option(const std::string& name, std::optional<int>& value,
                            const std::string& text) {
    return add_number<int>(*parts_, name, value, text);
}

Option* Options::add_option(const std::string& name, std::optional<std::uint64_t>& value,
                            const std::string& text) {
    Option* added = add_number<std::uint64_t>(*parts_, name, value, text);
    show(*added->parts_->option, "NONNEGATIVE");
    return added;
}

Option* Options::add_flag(const std::string& name, bool& value, const std::string& text) {
    Option::Parts& added = parts_->add();
    added.option = parts_->command->add_flag(name, value, text);
    added.option->check(CLI::Validator{true_or_false, ""});
    return parts_->last();
}

Option* Options::get_option(const std::string& name) {
    const auto at = std::find_if(parts_->options.begin(), parts_->options.end(),
                                 [&](const auto& option) { return option->name() == name; });
    return at == parts_->options.end() ? nullptr : at->get();
}

void Options::remove_option(Option* option) {
    parts_->command->remove_option(option->parts_->option);
    std::erase_if(parts_->options, [&](const auto& kept) { return kept.get() == option; });
}

void Options::footer(const std::string& text) {
    parts_->command->footer(text);
}

void Options::callback(std::function<void()> answer) {
    parts_->command->callback(std::move(answer));
}

CommandLine::CommandLine(const std::string& name, const std::string& text,
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

CommandLine::~CommandLine() = default;

Options* CommandLine::add_command(const std::string& name, const std::string& text) {
    auto parts = std::make_unique<Options::Parts>();
    parts->command = parts_->app.add_subcommand(name, text);
    parts_->commands.push_back(std::make_unique<Options>(std::move(parts)));
    return parts_->commands.back().get();
}

std::vector<std::string> CommandLine::command_names() const {
    std::vector<std::string> names;
    for (const CLI::App* command : parts_->app.get_subcommands({}))
        names.push_back(command->get_name());
    return names;
}

std::string CommandLine::help() const {
    return parts_->app.help();
}

std::string CommandLine::help(const std::string& command) const {
    const auto named = [&](const CLI::App* app) { return app->get_name() == command; };
    const auto commands = parts_->app.get_subcommands(named);
    return commands.empty() ? std::string{} : commands.front()->help(parts_->app.get_name());
}

std::string CommandLine::what() const {
    return parts_->app.get_description();
}

std::vector<tell::CommandText> CommandLine::texts() const {
    std::vector<tell::CommandText> out;
    for (const CLI::App* command : parts_->app.get_subcommands({}))
        out.push_back(text_of(*command));
    return out;
}

std::optional<int> CommandLine::parse(int argc, const char* const* argv, std::ostream& out,
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
