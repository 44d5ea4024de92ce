#include <fmt/ostream.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>
#include <vector>

#include "command.hpp"
#include "failure.hpp"
#include "file/file_contents.hpp"
#include "own_output.hpp"
#include "read/location_file.hpp"
#include "read/named_files.hpp"
#include "sheet_folder.hpp"
#include "site/zone_table.hpp"
#include "tell/pocket_page.hpp"
#include "tell/zone_table_document.hpp"
#include "words/shown.hpp"

namespace keyhour::cli {
namespace {

namespace fs = std::filesystem;

constexpr const char* library_name = "keyhour.wasm.gz";
constexpr std::size_t most_library_bytes = std::size_t{16} << 20U,
                      most_carried_bytes = std::size_t{2} << 20U;

struct PocketRequest {
    std::vector<std::string> locations;
    std::string out, library;
    bool force = false;
};

/// The compiled library: named, beside the program, installed with it, or built beside its build.
Answer<std::string> library_bytes(const std::string& named) {
    std::vector<std::string> places{named};
    if (named.empty()) {
        std::error_code none;
        const fs::path here = fs::read_symlink("/proc/self/exe", none).parent_path();
        places.clear();
        for (const char* folder :
             {".", "../share/keyhour", "../wasm-library", "../../wasm-library"})
            places.push_back((here / folder / library_name).string());
    }
    for (const std::string& place : places) {
        if (named.empty() && !fs::exists(place)) continue;
        auto bytes = file::file_contents(place, most_library_bytes, "the library for a page",
                                         "accepted: keyhour.wasm.gz, as built by the preset "
                                         "wasm-library",
                                         file::Taken::what_was_named);
        if (!bytes) return data_failure(bytes.error().text());
        if (!bytes->starts_with("\x1f\x8b"))
            return data_failure(place +
                                ": is not packed by gzip; accepted: keyhour.wasm.gz, as "
                                "built by the preset wasm-library");
        return *std::move(bytes);
    }
    return data_failure(
        "keyhour pocket: the library for a page is not installed; build it (\"cmake --preset "
        "wasm-library && cmake --build --preset wasm-library\") or name it: --library "
        "keyhour.wasm.gz");
}

/// The far skyline in words of the file's own, which has none below level.
void carry_terrain(const site::Site& site, tell::PocketFile& file) {
    if (site.horizon_source.kind != site::HorizonSource::Kind::terrain) return;
    std::vector<std::string> pairs;
    for (const site::HorizonPoint& p : site.horizon.points())
        pairs.push_back(fmt::format("[{:.4f}, {:.3f}]", p.bearing.in_degrees(),
                                    std::max(p.altitude.in_degrees(), 0.0)));
    file.terrain_skyline = fmt::format("[{}]", fmt::join(pairs, ", "));
    file.terrain_elevation = fmt::format("{:.2f}", site.observer.elevation_m);
}

/// Texts that the location names go with it; tiles of terrain are too large for a phone.
void carry_files(const std::string& path, tell::PocketFile& file, std::ostream& err) {
    const auto read = read::files_read(path);
    const fs::path folder = fs::path{path}.parent_path().lexically_normal();
    std::size_t tiles = 0;
    for (std::size_t i = 1; i < read.size(); ++i) {
        const fs::path there{read[i]};
        auto text = file::file_contents(read[i], most_carried_bytes, "a file in a page",
                                        "accepted: a text", file::Taken::plain_file);
        if (there.extension() == ".hgt" || there.extension() == ".tif") {
            ++tiles;
        } else if (!text || text->find('\0') != std::string::npos) {
            fmt::print(err,
                       "{}: the page does not hold {}, which this file names; there it must be "
                       "given otherwise\n",
                       words::shown(path), words::shown(read[i]));
        } else {
            const fs::path beside = there.lexically_relative(folder);
            file.beside[beside.empty() ? read[i] : beside.string()] = *std::move(text);
        }
    }
    if (tiles > 0)
        fmt::print(err,
                   "{}: of its terrain the page holds the skyline at the site, level where the "
                   "eye looks down; spots have that one too\n",
                   words::shown(path));
}

/// As read here: a page is not made of a file with errors.
Answer<tell::PocketFile> location_of(const std::string& path, std::ostream& err) {
    const auto location = read::read_location(path);
    if (!location) return tl::unexpected{Failure{bad_data, read::text(location.error())}};
    auto text = file::file_contents(path, read::largest_location_bytes, "a location file",
                                    "accepted: a location file, as written by \"keyhour new\"",
                                    file::Taken::what_was_named);
    if (!text) return data_failure(text.error().text());
    tell::PocketFile file{fs::path{path}.filename().string(), *std::move(text), {}, {}, {}};
    carry_terrain(location->site, file);
    carry_files(path, file, err);
    return file;
}

/// Files of two folders may share a name; in the page each has its own.
void give_own_name(tell::PocketFile& file, const std::vector<tell::PocketFile>& others) {
    const fs::path name = file.name;
    for (int n = 2; std::ranges::any_of(others, [&](const auto& o) { return o.name == file.name; });
         ++n)
        file.name = fmt::format("{} {}{}", name.stem().string(), n, name.extension().string());
}

Answer<std::string> page_of(const PocketRequest& r, std::ostream& err) {
    tell::PocketParts parts;
    for (const std::string& path : r.locations) {
        auto file = location_of(path, err);
        if (!file) return tl::unexpected{file.error()};
        give_own_name(*file, parts.locations);
        parts.locations.push_back(*std::move(file));
    }
    auto library = library_bytes(r.library);
    if (!library) return library;
    parts.library = *std::move(library);
    parts.zones = tell::json_of(site::zone_table_of(site::zone_source())).dump();
    return tell::pocket_page(parts);
}

int answer_pocket(const PocketRequest& r, std::ostream& out, std::ostream& err) {
    if (r.out.empty())
        return report({wrong_usage,
                       "keyhour pocket: the page needs a name: -o FILE.html; - writes "
                       "to the output"},
                      err);
    if (r.out != "-")
        if (const auto failure = may_write(r.out, r.force, r.locations))
            return report(*failure, err);
    const auto page = page_of(r, err);
    if (!page) return report(page.error(), err);
    if (r.out == "-") {
        out << *page;
        return answered;
    }
    if (const auto failure = write_file(r.out, *page, r.force)) return report(*failure, err);
    fmt::print(out, "{}: {:.1f} MB; opened in a browser it answers without a network\n", r.out,
               static_cast<double>(page->size()) / 1e6);
    return answered;
}

}  // namespace

void offer_pocket(CommandLine& line, Session& session) {
    auto request = std::make_shared<PocketRequest>();
    Options* command = line.add_command("pocket", "keyhour itself in one page, for a phone");
    command->add_option("location", request->locations, "location files (TOML) that it opens with")
        ->type_name("FILE");
    command->add_option("-o", request->out, "the page; - is standard output")->type_name("FILE");
    command->add_option("--library", request->library, "keyhour.wasm.gz (default: the installed)")
        ->type_name("FILE");
    command->add_flag("--force", request->force, "overwrite a file that keyhour did not write");
    command->footer(
        "example:\n"
        "  keyhour pocket -o pocket.html locations/tallow-lane.toml\n"
        "What is typed into the page stays in that browser.\n"
        "\"keyhour help pocket\" says more.");
    command->callback([request, &session] {
        session.exit_code = answer_pocket(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
