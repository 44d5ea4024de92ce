#pragma once
/// @file
/// A table of the location file, read key by key: every complaint names the place, what was found
/// and what is accepted. Keys that nobody asked for are complained about at the end.

#include <optional>
#include <string>
#include <vector>

#include "keyhour/room/plan.hpp"
#include "keyhour/site/zone.hpp"
#include "length_rules.hpp"
#include "source.hpp"
#include "toml.hpp"

namespace keyhour::read {

/// Problems of one file, and what syntax errors did to it.
class Findings {
public:
    /// @param folder  from which paths in the file are seen; empty: where the program runs
    explicit Findings(const Source& source, std::string folder = {})
        : source_{source}, folder_{std::move(folder)} {}

    void add(TextPlace at, std::string found, std::string accepted);
    void add(Problem problem) { problems_.push_back(std::move(problem)); }
    /// A complaint that may only follow from lines that could not be read: left out if there were.
    void add_missing(TextPlace at, std::string found, std::string accepted);
    /// Counts a complaint that only follows from another.
    void leave_out() { ++left_out_; }
    void set_incomplete() { incomplete_ = true; }
    /// Complaints so far, with those that were left out.
    [[nodiscard]] std::size_t count() const noexcept { return problems_.size() + left_out_; }
    [[nodiscard]] const Source& source() const noexcept { return source_; }
    [[nodiscard]] const std::string& folder() const noexcept { return folder_; }
    /// Ascending by line and column.
    [[nodiscard]] std::vector<Problem> sorted() const;

private:
    const Source& source_;
    std::string folder_;
    std::vector<Problem> problems_;
    std::size_t left_out_ = 0;
    bool incomplete_ = false;
};

enum class Need { required, optional };

struct NumberRule {
    double least = 0, most = 0;
    const char* unit = "";  ///< " degrees", with its blank
};

/// A coordinate or a corner: plain if written as a number without unit.
struct Coordinates {
    room::Point2 at;
    bool plain = false;
};

/// A measured figure; where it was given as a range, its middle and half its width.
struct Measured {
    double value = 0;
    std::optional<double> within{};
};

/// Names given elsewhere in the file.
struct KnownNames {
    std::string kind;  ///< "wall", "mark"
    std::vector<std::string> words;
    bool complete = true;  ///< false if some could not be read; then none is called unknown
};

/// Of things with a name. @param complete  as far as is known; a thing without a name spoils it
template <class Things>
KnownNames known_names(const char* kind, const Things& things, bool complete = true) {
    KnownNames names{kind, {}, complete};
    for (const auto& thing : things) {
        names.words.push_back(thing.name);
        names.complete = names.complete && !thing.name.empty();
    }
    return names;
}

class Fields {
public:
    /// @param label  how complaints call it: `[site]`, `[[window]] "north light"`
    Fields(const toml::table& table, std::string label, Findings& findings);

    /// @param example  shown where text is wanted, in its quotes
    [[nodiscard]] std::optional<std::string> text(std::string_view key, Need need,
                                                  const std::string& example = "");
    /// A non-empty name, shown in later complaints about this table.
    [[nodiscard]] std::optional<std::string> name(Need need);
    [[nodiscard]] std::optional<double> number(std::string_view key, Need need, NumberRule rule);
    [[nodiscard]] std::optional<int> whole(std::string_view key, Need need, int least, int most);
    [[nodiscard]] std::optional<double> length(std::string_view key, Need need, LengthRule rule);
    /// A length, or the range in which it lies: [least, most].
    [[nodiscard]] std::optional<Measured> measured_length(std::string_view key, Need need,
                                                          LengthRule rule);
    /// A bearing, or the range in which it lies, clockwise from the first to the second: [350, 10]
    /// lies round north. Its middle is not wrapped.
    [[nodiscard]] std::optional<Measured> measured_turn(std::string_view key, Need need,
                                                        NumberRule rule);
    [[nodiscard]] std::optional<bool> yes_or_no(std::string_view key);
    [[nodiscard]] std::optional<std::size_t> choice(std::string_view key, Need need,
                                                    const std::vector<std::string>& words);
    /// One of the names that the file has given to another part.
    [[nodiscard]] std::optional<std::size_t> reference(std::string_view key, Need need,
                                                       const KnownNames& names);
    [[nodiscard]] std::optional<Coordinates> point(std::string_view key, Need need);
    [[nodiscard]] std::optional<std::vector<Coordinates>> corners(std::string_view key, Need need);
    [[nodiscard]] std::optional<std::vector<double>> lengths(std::string_view key, Need need,
                                                             std::size_t count, LengthRule rule);
    [[nodiscard]] std::optional<std::vector<std::string>> names(std::string_view key, Need need);
    /// Two texts in a list, unread. @param accepted  the whole remedy
    [[nodiscard]] std::optional<std::pair<std::string, std::string>> two_texts(
        std::string_view key, Need need, const std::string& accepted);
    /// Pairs of numbers: bearing and altitude.
    [[nodiscard]] std::optional<std::vector<std::pair<double, double>>> pairs(std::string_view key,
                                                                              NumberRule first,
                                                                              NumberRule second);
    /// An ISO 8601 date, in quotes or as TOML writes it.
    [[nodiscard]] std::optional<site::LocalDate> date(std::string_view key, Need need);
    /// A date with a time of day, as text or as TOML writes it: the characters, unread.
    [[nodiscard]] std::optional<std::string> moment(std::string_view key, Need need);
    [[nodiscard]] const toml::table* table(std::string_view key, Need need,
                                           const std::string& example);
    /// The tables under [[key]]; none if absent.
    [[nodiscard]] std::vector<const toml::table*> tables(std::string_view key);

    /// Complains about every key that was never asked for.
    void refuse_unknown();
    /// A complaint about the value of `key`, or about the table where the key is absent.
    void complain(std::string_view key, std::string found, std::string accepted);
    /// The same, from another part's one message "FOUND; ACCEPTED".
    void complain(std::string_view key, const std::string& message);
    void complain_missing(std::string_view key, std::string found, std::string accepted);
    [[nodiscard]] bool has(std::string_view key) const { return table_->contains(key); }
    /// Is the value of `key` a table, { ... }?
    [[nodiscard]] bool holds_table(std::string_view key) const;
    /// Nothing was complained about here so far.
    [[nodiscard]] bool sound() const noexcept { return findings_->count() == before_; }
    [[nodiscard]] const std::string& label() const noexcept { return label_; }
    [[nodiscard]] TextPlace place() const;
    [[nodiscard]] TextPlace place(std::string_view key) const;
    /// `key = 3.0 in [[window]] "north light"`, as written.
    [[nodiscard]] std::string shown(std::string_view key) const;

private:
    const toml::node* find(std::string_view key, Need need, const std::string& accepted);
    std::optional<double> length_of(const toml::node& node, std::string_view key, LengthRule rule,
                                    bool* plain = nullptr);
    std::optional<double> number_of(const toml::node& node, std::string_view key, NumberRule rule,
                                    const std::string& accepted);
    /// The two ends of a range, each read by `each`; in the order in which they stand.
    template <class Each>
    std::optional<std::pair<double, double>> ends_of(const toml::array& range, std::string_view key,
                                                     const std::string& accepted, Each each);
    std::optional<Coordinates> point_of(const toml::node& node, std::string_view key);
    std::string written(const toml::node& node) const;
    std::string found(std::string_view key, const toml::node& node) const;
    void refuse(const toml::node& node, std::string found, std::string accepted);

    const toml::table* table_;
    std::string label_;
    Findings* findings_;
    std::size_t before_;
    std::vector<std::string> known_;
};

}  // namespace keyhour::read
