#include "location_file.hpp"

#include <fmt/format.h>

#include <filesystem>

#include "file/file_contents.hpp"
#include "found_light_tables.hpp"
#include "json_source.hpp"
#include "parse_toml.hpp"
#include "parts.hpp"
#include "position_note.hpp"
#include "read_rigging.hpp"
#include "rigging_file.hpp"
#include "room_checks.hpp"
#include "source_text.hpp"
#include "starter_file.hpp"

namespace keyhour::read {

namespace {

Problem whole_file(const std::string& name, std::string found, std::string accepted) {
    return {name, 0, 0, std::move(found), std::move(accepted), {}};
}

Problem too_large(const std::string& name) {
    return whole_file(
        name, "the file is too large",
        fmt::format("a location file holds up to {} MiB", largest_location_bytes >> 20U));
}

/// All that a location file holds.
struct Contents {
    site::Location location;
    site::Rigging rigging;
};

/// The same for every form: what the tables say, checked.
Read<Contents> contents_of(const toml::table& table, Findings& findings) {
    Fields root{table, "", findings};
    site::Location location;
    (void)root.whole("format", Need::required, 1, 1);
    SurroundingFiles files;
    read_site(root, location, findings, files);
    read_room(root, location, findings);
    location.spots = read_spots(root, findings);
    read_lamps(root, location, findings);
    read_lock(root, location, findings);
    read_forges(root, location, location.found, findings);
    read_meters(root, location, location.found, findings);
    site::Rigging rigging = read_rigging_tables(root, findings);
    root.refuse_unknown();
    if (findings.count() == 0) read_files(files, location, findings);
    std::vector<Problem> problems = findings.sorted();
    if (!problems.empty()) return tl::unexpected{std::move(problems)};
    return Contents{std::move(location), std::move(rigging)};
}

/// The tree with its changes, read; `source` is the file's.
Read<Contents> changed_contents(toml::table& table, Findings& findings, ChangedSource& source,
                                const Changes& changes) {
    for (const Change& change : changes)
        if (auto problem = source.apply(change, table)) findings.add(*std::move(problem));
    auto contents = contents_of(table, findings);
    if (contents)
        contents->location.site.name = changed_name(contents->location.site.name, changes);
    else
        add_that_it_is_changed(contents.error(), changes);
    return contents;
}

Read<Contents> contents_of_text(std::string_view text, const std::string& name,
                                const Changes& changes = {}) {
    if (text.size() > largest_location_bytes) {
        return tl::unexpected{std::vector{too_large(name)}};
    }
    SourceText source{text, name};
    if (auto problem = source.not_utf8()) return tl::unexpected{std::vector{*std::move(problem)}};
    if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) {
        return tl::unexpected{std::vector{
            whole_file(name, "the file is empty", "\"keyhour new\" writes one to start from")}};
    }
    ChangedSource changed{source};
    Findings findings{changed, std::filesystem::path{name}.parent_path().string()};
    toml::table table = parse_toml(source, findings);
    return changed_contents(table, findings, changed, changes);
}

Read<Contents> contents_of_json(std::string_view line, const std::string& name,
                                const Changes& changes) {
    if (line.size() > largest_location_bytes) return tl::unexpected{std::vector{too_large(name)}};
    JsonSource source{name};
    if (auto problem = source.parse(line)) return tl::unexpected{std::vector{*std::move(problem)}};
    ChangedSource changed{source};
    Findings findings{changed};
    return changed_contents(source.tree(), findings, changed, changes);
}

/// The starter as "keyhour new" writes it, but for a zone that needs no zone files; read once.
const site::Location& starter() {
    Starter needs_no_files;
    needs_no_files.time_zone = "GMT0BST,M3.5.0/1,M10.5.0";
    static const site::Location read =
        contents_of_text(starter_file(needs_no_files), "new")->location;
    return read;
}

/// Asks about what nobody measured yet.
Read<Contents> with_starter_question(Read<Contents> contents) {
    if (contents && contents->location.room)
        if (auto question = starter_question(*contents->location.room, *starter().room))
            contents->location.questions.push_back(*std::move(question));
    return contents;
}

/// One part of what was read, or its problems.
template <class Part>
Read<Part> part_of(Read<Contents> contents, Part Contents::*part) {
    if (!contents) return tl::unexpected{std::move(contents.error())};
    return std::move((*contents).*part);
}

}  // namespace

tl::expected<std::string, Problem> location_text(const std::string& path) {
    return file::file_contents(path, largest_location_bytes, "a location file",
                               "accepted: a location file, as written by \"keyhour new\"",
                               file::Taken::what_was_named);
}

Read<site::Location> read_location_text(std::string_view text, const std::string& name,
                                        const Changes& changes) {
    auto location =
        part_of(with_starter_question(contents_of_text(text, name, changes)), &Contents::location);
    if (location)
        if (auto question = position_note_question(text))
            location->questions.push_back(*std::move(question));
    return location;
}

Read<site::Rigging> read_rigging_text(std::string_view text, const std::string& name,
                                      const Changes& changes) {
    return part_of(contents_of_text(text, name, changes), &Contents::rigging);
}

Read<site::Location> read_location_json(std::string_view line, const std::string& name,
                                        const Changes& changes) {
    return part_of(contents_of_json(line, name, changes), &Contents::location);
}

Read<site::Rigging> read_rigging_json(std::string_view line, const std::string& name,
                                      const Changes& changes) {
    return part_of(contents_of_json(line, name, changes), &Contents::rigging);
}

Read<site::Location> read_location(const std::string& path, const Changes& changes) {
    auto text = location_text(path);
    if (!text) return tl::unexpected{std::vector{text.error()}};
    return read_location_text(*text, path, changes);
}

Read<site::Rigging> read_rigging(const std::string& path, const Changes& changes) {
    auto text = location_text(path);
    if (!text) return tl::unexpected{std::vector{text.error()}};
    return read_rigging_text(*text, path, changes);
}

}  // namespace keyhour::read
