#include "changes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "change_path.hpp"
#include "keyhour/site/dates.hpp"
#include "length.hpp"
#include "toml_numbers.hpp"
#include "words/blanks.hpp"
#include "words/utf8.hpp"

namespace keyhour::read {
namespace {

constexpr const char* change_form =
    "accepted: NAME.KEY=VALUE, as in \"window.north.cover=blackout\"";

std::string in_plain_quotes(std::string_view text) {
    std::string out{'"'};
    for (const char c : text) {
        if (c == '"' || c == '\\') out += '\\';
        out += c;
    }
    out += '"';
    return out;
}

bool is_toml(std::string_view value) {
    const auto read = toml::parse(fmt::format("v = {}", value));
    if (!read || read.table().size() != 1) return false;
    const toml::node& node = *read.table().get("v");
    return !(node.is_date() || node.is_time() || node.is_date_time());  // these stand in quotes
}

/// What may stand in a list without brackets: a number, a length, a date, text in quotes.
bool is_entry(std::string_view piece) {
    return is_toml(piece) || read_length(piece) || site::read_date(std::string{piece});
}

/// The value as TOML writes it: as typed if it is that, else a list, else text.
std::string as_toml(std::string_view value) {
    value = words::stripped(value);
    if (is_toml(value)) return std::string{value};
    std::string list = "[";
    std::string_view rest = value;
    bool all = value.find(',') != std::string_view::npos;
    while (all) {
        const std::size_t comma = std::min(rest.find(','), rest.size());
        const std::string_view piece = words::stripped(rest.substr(0, comma));
        all = is_entry(piece);
        list += fmt::format("{}{}", list.size() > 1 ? ", " : "", as_toml(piece));
        if (comma == rest.size()) return all ? fmt::format("{}]", list) : in_plain_quotes(value);
        rest.remove_prefix(comma + 1);
    }
    return in_plain_quotes(value);
}

/// A number, or a length with its unit in metres.
std::optional<double> figure(const toml::node& node) {
    if (is_number(node)) return as_number(node);
    if (const auto* text = node.as_string())
        if (const auto length = read_length(text->get())) return *length;
    return std::nullopt;
}

/// Without the dust of a sum: 0.3, not 0.30000000000000004.
std::string plain(double value) {
    const double kept = std::round(value * 1e9) / 1e9;
    return fmt::format("{}", kept == 0 ? 0.0 : kept);
}

/// A date so many days later or earlier, in quotes.
std::optional<std::string> later_date(const toml::node& value, const toml::node& more,
                                      double sign) {
    const auto* text = value.as_string();
    const auto* days = more.as_integer();
    constexpr std::int64_t most = 36600;
    if (!text || !days || days->get() < -most || days->get() > most) return std::nullopt;
    const auto date = site::read_date(text->get());
    if (!date) return std::nullopt;
    const date::days step{static_cast<int>(days->get()) * (sign < 0 ? -1 : 1)};
    return in_plain_quotes(site::iso_date(site::LocalDate{date::local_days{*date} + step}));
}

/// The file's value with the difference added, as TOML; a list entry by entry, or each by the same.
/// Nothing where there is no number to add to.
std::optional<std::string> sum_of(const toml::node& value, const toml::node& more, double sign,
                                  bool is_bearing) {
    const toml::array* list = value.as_array();
    if (!list) {
        if (auto date = later_date(value, more, sign)) return date;
        const auto a = figure(value), b = figure(more);
        if (!a || !b) return std::nullopt;
        double sum = *a + sign * *b;
        if (is_bearing) sum = std::fmod(std::fmod(sum, 360) + 360, 360);
        return plain(sum);
    }
    const toml::array* each = more.as_array();
    if (each && each->size() != list->size()) return std::nullopt;
    std::string out = "[";
    for (std::size_t i = 0; i < list->size(); ++i) {
        const auto sum = sum_of(*list->get(i), each ? *each->get(i) : more, sign, is_bearing);
        if (!sum) return std::nullopt;
        out += fmt::format("{}{}", i > 0 ? ", " : "", *sum);
    }
    return fmt::format("{}]", out);
}

/// Where the "=" stands that is in no quotes.
std::size_t equals_sign(std::string_view text) {
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '"') quoted = !quoted;
        if (text[i] == '=' && !quoted) return i;
    }
    return std::string_view::npos;
}

struct Typed {
    std::string_view path, value;
    double sign = 0;  ///< 1 or -1: added to what the file says
};

std::optional<ChangeFault> read_typed(std::string_view text, Typed& out) {
    for (std::string_view rest = text; !rest.empty();) {
        const std::size_t n = words::utf8_length(rest);
        if (n == 0) return ChangeFault{"it is not UTF-8", change_form};
        const auto byte = static_cast<unsigned char>(rest.front());
        if (byte < 0x20 || byte == 0x7f)
            return ChangeFault{"it holds a control character", "accepted: printable text"};
        rest.remove_prefix(n);
    }
    const std::size_t at = equals_sign(text);
    if (at == std::string_view::npos) return ChangeFault{"it says no value", change_form};
    out.path = text.substr(0, at);
    out.value = words::stripped(text.substr(at + 1));
    if (out.path.ends_with('+')) out.sign = 1;
    if (out.path.ends_with('-')) out.sign = -1;
    if (out.sign != 0) out.path.remove_suffix(1);
    out.path = words::stripped(out.path);
    if (out.path.empty() || out.value.empty())
        return ChangeFault{out.path.empty() ? "it names nothing" : "it says no value", change_form};
    return std::nullopt;
}

/// One text for a list of texts: a list of one.
std::string like_the_old(const toml::node* old, std::string value) {
    const toml::array* list = old ? old->as_array() : nullptr;
    const bool of_texts = list && !list->empty() && list->get(0)->is_string();
    return of_texts && value.starts_with('"') ? fmt::format("[{}]", value) : value;
}

/// Moves the node, with where it stands, to the key.
void put(toml::table& table, const std::string& key, toml::node& node) {
    node.visit([&](auto& value) { table.insert_or_assign(key, std::move(value)); });
}

/// These go round at 360.
bool is_bearing(const std::string& key) {
    return key == "faces" || key == "camera_bearing";
}

/// The file's value with what was typed added to it, as TOML.
tl::expected<std::string, ChangeFault> added_value(const Typed& typed, const ChangePlace& place,
                                                   const toml::node* old, const std::string& value,
                                                   const Source& source) {
    if (!old)
        return tl::unexpected{
            ChangeFault{fmt::format("the file has no \"{}\" to add to", typed.path),
                        "accepted: = with the whole value"}};
    const auto more = toml::parse(fmt::format("v = {}", value));
    if (const auto sum = sum_of(*old, *more.table().get("v"), typed.sign, is_bearing(place.key)))
        return *sum;
    return tl::unexpected{ChangeFault{
        fmt::format("{} can't be added to {}", typed.value, source.written(*old)),
        "accepted: a number or a length to a number, as many to a list; days to a date"}};
}

/// The path of a change's nodes; no file can be called so.
std::string mark_of(std::size_t number) {
    return fmt::format("\n--if {}", number);
}

/// Where numbers were typed as "-3/0/+3" or "-3,0,+3" that no list is: how several are asked about.
std::string how_side_by_side(const std::string& label) {
    std::string out = label;
    const std::size_t value = out.find('=') + 1;
    if (value == 0 || out.find_first_of("/,", value) == std::string::npos ||
        out.find_first_not_of("+-.0123456789/,", value) != std::string::npos)
        return {};
    std::ranges::replace_if(
        out.begin() + static_cast<std::ptrdiff_t>(value), out.end(),
        [](char c) { return c == '/' || c == ','; }, '|');
    return fmt::format("; several values side by side: \"{}\"", out.substr(5));
}

}  // namespace

std::string Change::label() const {
    return fmt::format("--if {}{}", within, text);
}

std::string what_if(const Changes& changes) {
    std::string out;
    for (const Change& change : changes)
        out += fmt::format("{}{}{}", out.empty() ? "" : ", ", change.within, change.text);
    return out;
}

std::string changed_name(const std::string& name, const Changes& changes) {
    if (changes.empty()) return name;
    return fmt::format("{}{}what if {}", name, name.empty() ? "" : ", ", what_if(changes));
}

std::optional<Problem> ChangedSource::apply(const Change& change, toml::table& tree) {
    const auto refused = [&](ChangeFault fault) {
        return Problem{change.label(),
                       0,
                       0,
                       std::move(fault.found),
                       fault.accepted + how_side_by_side(change.label()),
                       {}};
    };
    Typed typed;
    if (auto fault = read_typed(change.text, typed)) return refused(*std::move(fault));
    auto place = find_change(tree, typed.path);
    if (!place) return refused(std::move(place.error()));
    std::string value = as_toml(typed.value);
    const toml::node* old = place->below.empty() ? place->table->get(place->key) : nullptr;
    if (typed.sign != 0) {
        auto sum = added_value(typed, *place, old, value, *this);
        if (!sum) return refused(std::move(sum.error()));
        value = *std::move(sum);
    } else if (is_bearing(place->key) && (value.starts_with('-') || value.starts_with('+'))) {
        return refused({fmt::format("a bearing of {} is none", value),
                        fmt::format("accepted: 0 to 360 degrees; turned by so much: {}+={}",
                                    typed.path, value.substr(value.starts_with('+') ? 1 : 0))});
    } else {
        value = like_the_old(old, std::move(value));
    }
    for (auto key = place->below.rbegin(); key != place->below.rend(); ++key)
        value = fmt::format("{{ {} = {} }}", in_plain_quotes(*key), value);
    const std::string text = fmt::format("v = {}", value);
    auto parsed = toml::parse(text, mark_of(made_.size()));
    toml::node* node = parsed ? parsed.table().get("v") : nullptr;
    if (!node) return refused({"its value can't be read", change_form});
    made_.push_back({change.label(), std::make_unique<SourceText>(text, change.label())});
    put(*place->table, place->key, *node);
    return std::nullopt;
}

const ChangedSource::Made* ChangedSource::made_by(const toml::node& node, int& number) const {
    const auto& path = node.source().path;
    if (!path || !path->starts_with('\n')) return nullptr;
    for (std::size_t i = 0; i < made_.size(); ++i)
        if (*path == mark_of(i)) {
            number = static_cast<int>(i) + 1;
            return &made_[i];
        }
    return nullptr;
}

// A change's places are lines below zero: Findings puts them first.
TextPlace ChangedSource::place(const toml::node& node) const {
    int number = 0;
    if (made_by(node, number)) return {-number, 1};
    return file_.place(node);
}

TextPlace ChangedSource::place(const toml::key& key, const toml::node& node) const {
    int number = 0;
    if (made_by(node, number)) return {-number, 1};
    return file_.place(key, node);
}

std::string ChangedSource::written(const toml::node& node) const {
    int number = 0;
    const Made* made = made_by(node, number);
    return made ? made->text->written(node) : file_.written(node);
}

Problem ChangedSource::problem(TextPlace at, std::string found, std::string accepted) const {
    if (at.line >= 0) return file_.problem(at, std::move(found), std::move(accepted));
    const Made& made = made_[static_cast<std::size_t>(-at.line - 1)];
    return {made.label, 0, 0, std::move(found), accepted + how_side_by_side(made.label), {}};
}

void add_that_it_is_changed(std::vector<Problem>& problems, const Changes& changes) {
    const bool of_the_file =
        std::ranges::any_of(problems, [](const Problem& problem) { return problem.line > 0; });
    if (changes.empty() || !of_the_file) return;
    problems.push_back(
        {"--if", 0, 0, fmt::format("the file was read with {}", what_if(changes)), {}, {}});
}

}  // namespace keyhour::read
