#include "shoot_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>

#include "change_path.hpp"
#include "file/file_contents.hpp"
#include "keyhour/site/dates.hpp"
#include "minutes_by_crew.hpp"
#include "nearest.hpp"
#include "parse_toml.hpp"
#include "rigging_file.hpp"
#include "shoot_parts.hpp"
#include "source_text.hpp"

namespace keyhour::read {
namespace {

std::chrono::minutes whole_minutes(double minutes) {
    return std::chrono::minutes{static_cast<int>(std::ceil(minutes))};
}

/// By the place's name.
using PlaceChanges = std::map<std::string, Changes>;

/// Is it about the location of a place, and not one of the place's own keys?
std::optional<std::string_view> location_change(std::string_view path, const std::string& place) {
    if (path.starts_with("place.")) path.remove_prefix(6);
    const std::string_view behind = behind_name(path, place);
    if (behind.empty() || behind.starts_with("name=") || behind.starts_with("file="))
        return std::nullopt;
    return behind;
}

/// Takes those that are about a place's location out of `changes`.
PlaceChanges take_place_changes(const toml::table& tree, Changes& changes) {
    PlaceChanges out;
    const toml::array* places = tree["place"].as_array();
    if (!places) return out;
    for (const toml::node& node : *places) {
        const toml::table* table = node.as_table();
        const std::string place = table ? name_of(*table) : std::string{};
        if (place.empty()) continue;
        std::erase_if(changes, [&](const Change& change) {
            const auto behind = location_change(change.text, place);
            if (!behind) return false;
            const std::size_t before = change.text.size() - behind->size();
            out[place].push_back({std::string{*behind}, change.text.substr(0, before)});
            return true;
        });
    }
    return out;
}

class ShootReader {
public:
    /// @param of_places  changes to the locations
    ShootReader(const toml::table& table, const PlaceChanges& of_places, Findings& findings)
        : root_{table, "", findings}, place_changes_{of_places}, findings_{findings} {}

    study::Shoot read(std::vector<Problem>& of_places) {
        (void)root_.whole("format", Need::required, 1, 1);
        read_head();
        read_places(of_places);
        read_people();
        read_moves();
        read_scenes(root_, parts_, findings_);
        root_.refuse_unknown();
        if (findings_.count() == 0 && of_places.empty())
            check_shoot(root_, parts_.shoot, findings_);
        return std::move(parts_.shoot);
    }

private:
    void read_head() {
        const toml::table* table =
            root_.table("shoot", Need::required, "a table [shoot] with days and crew");
        if (!table) return;
        Fields f{*table, "[shoot]", findings_};
        study::Shoot& shoot = parts_.shoot;
        shoot.name = f.text("name", Need::optional, "hats by hand").value_or("the shoot");
        shoot.crew = f.whole("crew", Need::required, 1, largest_crew).value_or(1);
        read_days(f);
        read_rules(f, *table);
        f.refuse_unknown();
    }

    void read_days(Fields& f) {
        const auto words = f.names("days", Need::required);
        if (!words) return;
        if (words->empty() || words->size() > most_days)
            f.complain("days", fmt::format("{} days are named", words->size()),
                       fmt::format("accepted: 1 to {} dates, as in [\"2026-03-10\"]", most_days));
        for (const std::string& word : *words) {
            const auto day = site::read_date(word);
            if (day)
                parts_.shoot.days.push_back(*day);
            else
                f.complain("days", day.error());
        }
        std::ranges::sort(parts_.shoot.days);
        const auto& days = parts_.shoot.days;
        if (!days.empty() &&
            (date::sys_days{days.back()} - date::sys_days{days.front()}).count() > 366)
            f.complain("days", "the days lie more than a year apart",
                       "accepted: days of one shoot, within 366 days");
    }

    void read_rules(Fields& f, const toml::table& table) {
        study::ShootRules& rules = parts_.shoot.rules;
        if (const auto hours = read_hours(f, "hours")) rules.hours = *hours;
        const auto minutes = [&](const char* key, double least, double most,
                                 std::chrono::minutes& value) {
            if (const auto read = read_minutes(f, table, key, Need::optional, least, most))
                value = whole_minutes(*read);
        };
        minutes("rest_min", 0, 1440, rules.rest);
        minutes("break_after_min", 30, 1440, rules.break_after);
        minutes("break_min", 5, 240, rules.break_length);
        minutes("longest_day_min", 60, 1440, rules.longest_day);
        minutes("enough_slack_min", 0, 720, rules.enough_slack);
        minutes("load_min", 0, 480, rules.load);
        if (const auto speed = f.number("speed_kmh", Need::optional, {1, 130, " km/h"}))
            rules.speed_kmh = *speed;
    }

    void read_places(std::vector<Problem>& of_places) {
        for (const toml::table* table : root_.tables("place")) {
            Fields f{*table, "[[place]]", findings_};
            study::ShootPlace place;
            place.name = f.name(Need::required).value_or("");
            if (std::ranges::any_of(parts_.shoot.places,
                                    [&](const auto& p) { return p.name == place.name; }))
                f.complain("name", fmt::format("a second place is called \"{}\"", place.name),
                           "each needs its own name");
            bool sound = false;
            if (const auto path = f.text("file", Need::required, "tallow-lane.toml"))
                sound = read_location_of(place, *path, f, of_places);
            f.refuse_unknown();
            parts_.shoot.places.push_back(std::move(place));
            parts_.place_is_sound.push_back(sound);
        }
        if (parts_.shoot.places.empty())
            root_.complain_missing("place", "the shoot has no [[place]]",
                                   "accepted: [[place]] with name and file");
        if (parts_.shoot.places.size() > most_places)
            root_.complain("place", fmt::format("{} places", parts_.shoot.places.size()),
                           fmt::format("accepted: up to {}", most_places));
    }

    bool read_location_of(study::ShootPlace& place, const std::string& path, Fields& f,
                          std::vector<Problem>& of_places) {
        place.file = file::path_beside(findings_.folder(), path);
        std::error_code error;
        if (!std::filesystem::is_regular_file(place.file, error)) {
            f.complain("file", fmt::format("{}: there is no such file", f.shown("file")),
                       "accepted: a location file, seen from the shoot file's folder");
            return false;
        }
        const auto changes = changes_of(place.name);
        auto location = read_location(place.file, changes);
        if (!location) {
            for (Problem& problem : location.error())
                of_places.push_back(std::move(problem));
            return false;
        }
        place.location = *std::move(location);
        if (auto rigging = read_rigging(place.file, changes)) place.rigging = *std::move(rigging);
        return true;
    }

    [[nodiscard]] Changes changes_of(const std::string& place) const {
        const auto at = place_changes_.find(place);
        return at == place_changes_.end() ? Changes{} : at->second;
    }

    void read_people() {
        for (const toml::table* table : root_.tables("person")) {
            Fields f{*table, "[[person]]", findings_};
            study::ShootPerson person;
            person.name = f.name(Need::required).value_or("");
            if (std::ranges::any_of(parts_.shoot.people,
                                    [&](const auto& p) { return p.name == person.name; }))
                f.complain("name", fmt::format("a second person is called \"{}\"", person.name),
                           "each needs its own name");
            person.hours = read_hours(f, "hours");
            for (const std::string& word :
                 f.names("days", Need::optional).value_or(std::vector<std::string>{}))
                add_day(person, word, f);
            f.refuse_unknown();
            parts_.shoot.people.push_back(std::move(person));
        }
    }

    void add_day(study::ShootPerson& person, const std::string& word, Fields& f) {
        const auto day = site::read_date(word);
        if (!day) return f.complain("days", day.error());
        const auto& days = parts_.shoot.days;
        const auto at = std::ranges::find(days, *day);
        if (at == days.end())
            return f.complain_missing("days", fmt::format("{} is no day of the shoot", word),
                                      "accepted: days that stand in [shoot]");
        person.days.push_back(static_cast<std::size_t>(at - days.begin()));
    }

    void read_moves() {
        KnownNames places{"place", {}, true};
        for (const auto& place : parts_.shoot.places) {
            places.words.push_back(place.name);
            places.complete = places.complete && !place.name.empty();
        }
        for (const toml::table* table : root_.tables("move")) {
            Fields f{*table, "[[move]]", findings_};
            const auto from = f.reference("from", Need::required, places);
            const auto to = f.reference("to", Need::required, places);
            const auto minutes = read_minutes(f, *table, "minutes", Need::required, 0, 1440);
            if (from && to && *from == *to)
                f.complain("to", "the move leads to where it begins",
                           "accepted: the name of another place");
            f.refuse_unknown();
            if (from && to && minutes)
                parts_.shoot.moves.push_back({*from, *to, whole_minutes(*minutes)});
        }
    }

    Fields root_;
    const PlaceChanges& place_changes_;
    Findings& findings_;
    ShootParts parts_;
};

Problem of_whole_file(const std::string& name, std::string found, std::string accepted) {
    return {name, 0, 0, std::move(found), std::move(accepted), {}};
}

}  // namespace

std::vector<std::size_t> read_references(Fields& fields, std::string_view key,
                                         const KnownNames& names) {
    std::vector<std::size_t> out;
    const auto words = fields.names(key, Need::optional);
    for (const std::string& word : words.value_or(std::vector<std::string>{})) {
        const auto at = std::ranges::find(names.words, word);
        if (at != names.words.end())
            out.push_back(static_cast<std::size_t>(at - names.words.begin()));
        else if (names.complete)
            fields.complain_missing(
                key, fmt::format("{}: there is no {} \"{}\"", fields.shown(key), names.kind, word),
                suggestion(word, names.words));
    }
    return out;
}

Read<study::Shoot> read_shoot_text(std::string_view text, const std::string& name,
                                   const Changes& changes) {
    SourceText source{text, name};
    if (auto problem = source.not_utf8()) return tl::unexpected{std::vector{*std::move(problem)}};
    if (text.find_first_not_of(" \t\r\n") == std::string_view::npos)
        return tl::unexpected{std::vector{of_whole_file(
            name, "the file is empty", "\"keyhour help shoot\" shows one to start from")}};
    ChangedSource changed{source};
    Findings findings{changed, std::filesystem::path{name}.parent_path().string()};
    toml::table table = parse_toml(source, findings);
    Changes own = changes;
    const PlaceChanges place_changes = take_place_changes(table, own);
    for (const Change& change : own)
        if (auto problem = changed.apply(change, table)) findings.add(*std::move(problem));
    std::vector<Problem> of_places;
    study::Shoot shoot = ShootReader{table, place_changes, findings}.read(of_places);
    std::vector<Problem> problems = findings.sorted();
    add_that_it_is_changed(problems, own);
    problems.insert(problems.end(), std::make_move_iterator(of_places.begin()),
                    std::make_move_iterator(of_places.end()));
    if (!problems.empty()) return tl::unexpected{std::move(problems)};
    shoot.name = changed_name(shoot.name, changes);
    return shoot;
}

Read<study::Shoot> read_shoot(const std::string& path, const Changes& changes) {
    const auto text = file::file_contents(
        path, largest_location_bytes, "a shoot file",
        "accepted: a shoot file, as \"keyhour help shoot\" shows one", file::Taken::what_was_named);
    if (!text) return tl::unexpected{std::vector{text.error()}};
    return read_shoot_text(*text, path, changes);
}

}  // namespace keyhour::read
