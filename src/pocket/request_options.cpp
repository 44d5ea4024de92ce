#include "request_options.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/option_number.hpp"
#include "keyhour/site/nearest.hpp"
#include "keyhour/site/quoted.hpp"

namespace keyhour::pocket {
namespace {

using Set = tl::expected<void, std::string>;

/// A number as it came, for the reading that a typed one gets.
std::string as_typed(const Json& value) {
    if (value.is_string()) return value.get<std::string>();
    return value.is_number_float() ? fmt::format("{}", value.get<double>()) : value.dump();
}

}  // namespace

class RequestOption final : public cli::Option {
public:
    using Setter = std::function<Set(const RequestOption&, const Json&)>;

    RequestOption(std::string name, Setter set) : name_{std::move(name)}, set_{std::move(set)} {}

    Option* type_name(const std::string& shown) override {
        form.type = shown;
        return this;
    }
    Option* group(const std::string&) override { return this; }
    Option* description(const std::string&) override { return this; }
    Option* required() override {
        is_required_ = true;
        return this;
    }
    Option* delimiter(char between) override {
        between_ = between;
        return this;
    }
    Option* one_at_a_time() override { return this; }
    Option* range(std::int64_t least, std::int64_t most) override {
        form.bounds = cli::WholeBounds{least, static_cast<std::uint64_t>(most)};
        return this;
    }
    Option* also(std::function<std::optional<double>(const std::string&)> notation) override {
        form.also = std::move(notation);
        return this;
    }
    Option* excludes(Option* other) override {
        excluded_.push_back(other);
        return this;
    }
    [[nodiscard]] bool is_given() const override { return is_given_; }
    [[nodiscard]] std::string name() const override { return name_; }

    [[nodiscard]] Set set(const Json& value) {
        is_given_ = true;
        return set_(*this, value);
    }
    /// A list's single text, parted where the option says so.
    [[nodiscard]] std::vector<std::string> parted(const std::string& text) const {
        std::vector<std::string> out;
        for (std::size_t at = 0; between_ != '\0' && at <= text.size();) {
            const std::size_t end = std::min(text.find(between_, at), text.size());
            out.push_back(text.substr(at, end - at));
            at = end + 1;
        }
        return between_ == '\0' ? std::vector{text} : out;
    }
    /// What speaks against the options as they were given; empty if nothing does.
    [[nodiscard]] std::string conflict() const {
        if (is_required_ && !is_given_) return "is missing";
        for (const Option* other : excluded_)
            if (is_given_ && other->is_given())
                return fmt::format("and {}: give one of them", field_of_option(other->name()));
        return {};
    }

    cli::NumberForm form;

private:
    std::string name_;
    Setter set_;
    char between_ = '\0';
    bool is_required_ = false, is_given_ = false;
    std::vector<const Option*> excluded_;
};

class RequestOptions final : public cli::Options {
public:
    cli::Option* add_option(const std::string& name, std::string& value,
                            const std::string&) override {
        return keep(name, [&value](const RequestOption&, const Json& given) -> Set {
            if (!given.is_string() && !given.is_number())
                return tl::unexpected{std::string{"accepted: a text"}};
            value = as_typed(given);
            return {};
        });
    }
    cli::Option* add_option(const std::string& name, std::vector<std::string>& values,
                            const std::string&) override {
        return keep(name, [&values](const RequestOption& option, const Json& given) -> Set {
            const auto texts = texts_of(option.name(), given);
            if (!texts) return tl::unexpected{std::string{"accepted: a list of texts"}};
            for (const std::string& text : *texts)
                for (std::string& part : option.parted(text))
                    values.push_back(std::move(part));
            return {};
        });
    }
    cli::Option* add_option(const std::string& name, double& value, const std::string&) override {
        return add_number<double>(name, value);
    }
    cli::Option* add_option(const std::string& name, std::optional<double>& value,
                            const std::string&) override {
        return add_number<double>(name, value);
    }
    cli::Option* add_option(const std::string& name, int& value, const std::string&) override {
        return add_number<int>(name, value);
    }
    cli::Option* add_option(const std::string& name, std::optional<int>& value,
                            const std::string&) override {
        return add_number<int>(name, value);
    }
    cli::Option* add_option(const std::string& name, std::optional<std::uint64_t>& value,
                            const std::string&) override {
        return add_number<std::uint64_t>(name, value);
    }
    cli::Option* add_flag(const std::string& name, bool& value, const std::string&) override {
        return keep(name, [&value](const RequestOption&, const Json& given) -> Set {
            if (!given.is_boolean()) return tl::unexpected{std::string{"accepted: true or false"}};
            value = given.get<bool>();
            return {};
        });
    }
    [[nodiscard]] cli::Option* get_option(const std::string& name) override { return find(name); }
    void remove_option(cli::Option* option) override {
        std::erase_if(options_, [&](const auto& kept) { return kept.get() == option; });
    }
    void footer(const std::string&) override {}
    void callback(std::function<void()> answer) override { answer_ = std::move(answer); }

    [[nodiscard]] Problems answer(const Json& members) {
        Problems problems;
        for (const auto& [field, value] : members.items())
            if (const std::string wrong = set(field, value); !wrong.empty())
                problems.push_back({0, 0, field, fmt::format("{}: {}", field, wrong)});
        for (const auto& option : options_)
            if (const std::string wrong = option->conflict(); !wrong.empty() && problems.empty()) {
                const std::string field = field_of_option(option->name());
                problems.push_back({0, 0, field, fmt::format("{} {}", field, wrong)});
            }
        if (problems.empty()) answer_();
        return problems;
    }

private:
    cli::Option* keep(const std::string& name, RequestOption::Setter set) {
        options_.push_back(std::make_unique<RequestOption>(name, std::move(set)));
        return options_.back().get();
    }
    template <class T, class Variable>
    cli::Option* add_number(const std::string& name, Variable& value) {
        return keep(name, [&value](const RequestOption& option, const Json& given) -> Set {
            if (!given.is_string() && !given.is_number())
                return tl::unexpected{std::string{"accepted: a number"}};
            const auto number = cli::read_as<T>(option.form, as_typed(given));
            if (!number) return tl::unexpected{number.error()};
            value = *number;
            return {};
        });
    }
    [[nodiscard]] RequestOption* find(const std::string& name) const {
        const auto at = std::ranges::find_if(
            options_, [&](const auto& option) { return option->name() == name; });
        return at == options_.end() ? nullptr : at->get();
    }
    /// @return what is wrong with it; empty if nothing is
    std::string set(const std::string& field, const Json& value) {
        RequestOption* option = find("--" + field);
        if (option == nullptr) option = find(field);
        if (option == nullptr) return unknown(field);
        const Set done = option->set(value);
        return done ? std::string{} : done.error();
    }
    [[nodiscard]] std::string unknown(const std::string& field) const {
        std::vector<std::string> known;
        for (const auto& option : options_)
            known.push_back(field_of_option(option->name()));
        const auto near = site::nearest(field, known);
        return near ? fmt::format("this question does not know it; did you mean {}?",
                                  site::quoted(*near))
                    : std::string{"this question does not know it"};
    }

    std::vector<std::unique_ptr<RequestOption>> options_;
    std::function<void()> answer_ = [] {};
};

RequestLine::RequestLine() = default;
RequestLine::~RequestLine() = default;

cli::Options* RequestLine::add_command(const std::string&, const std::string&) {
    command_ = std::make_unique<RequestOptions>();
    return command_.get();
}

Problems RequestLine::answer(const Json& members) {
    return command_->answer(members);
}

}  // namespace keyhour::pocket
