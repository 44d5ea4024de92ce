#include "command_sheet.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <ostream>

#include "exposure_options.hpp"
#include "own_output.hpp"
#include "page_print.hpp"
#include "read/named_files.hpp"
#include "sheet_drawings.hpp"
#include "sheet_folder.hpp"
#include "sheet_papers.hpp"
#include "units_option.hpp"

namespace keyhour::cli {
namespace {

struct SheetRequest {
    SheetWishes wishes;
    std::string out_folder, out_file;
    ExposureOptions exposure;
    bool force = false, pdf = false;
};

std::optional<Failure> misplaced(const SheetRequest& r) {
    if (!r.out_folder.empty() && !r.out_file.empty())
        return Failure{wrong_usage,
                       "--out is a folder for all, -o a file for one: give one of them"};
    if (r.pdf && r.out_folder.empty()) return Failure{wrong_usage, "--pdf needs --out FOLDER"};
    if (r.pdf && !wants(r.wishes, "page"))
        return Failure{wrong_usage, "--pdf prints the page: leave --only away, or add --only page"};
    if (r.out_folder.empty() && r.out_file.empty())
        return Failure{wrong_usage,
                       "where to: give --out FOLDER, or -o FILE (- for standard output)"};
    return std::nullopt;
}

/// Told before anything is drawn.
std::optional<Failure> may_write_all(const SheetRequest& r, const SheetQuestion& q) {
    auto names = drawing_names(q, r.wishes);
    if (!names) return names.error();
    for (std::string& name : paper_names(q, r.wishes))
        names->push_back(std::move(name));
    const std::vector<std::string> inputs = read::files_read(r.wishes.location);
    if (!r.out_file.empty()) {
        if (names->size() > 1)
            return Failure{wrong_usage,
                           fmt::format("-o takes one drawing, this asks for {}: choose with "
                                       "--only, --window, --mark ({})",
                                       names->size(), fmt::join(*names, ", "))};
        if (r.out_file == "-") return std::nullopt;
        return may_write(r.out_file, r.force, inputs);
    }
    if (r.pdf) {
        names->emplace_back("sheet.pdf");
        for (const std::string& name : paper_names(q, r.wishes))
            if (name.ends_with(".html"))
                names->push_back(std::filesystem::path{name}.replace_extension(".pdf").string());
    }
    return may_fill(r.out_folder, *names, r.force, inputs);
}

int write_one(const SheetRequest& r, const std::vector<SheetFile>& files, std::ostream& out,
              std::ostream& err) {
    if (r.out_file == "-") {
        out << files.front().content;
        return answered;
    }
    if (const auto failure = write_file(r.out_file, files.front().content, r.force))
        return report(*failure, err);
    fmt::print(out, "{}\n", r.out_file);
    return answered;
}

std::string calendar_path(const SheetRequest& r) {
    if (!r.out_folder.empty())
        return (std::filesystem::path{r.out_folder} / calendar_name).string();
    return r.out_file == "-" ? std::string{} : r.out_file;
}

/// All files wished for, drawings first.
Answer<std::vector<SheetFile>> all_files(const SheetRequest& r) {
    const auto q = SheetQuestion::ask(r.wishes);
    if (!q) return tl::unexpected{q.error()};
    if (const auto failure = may_write_all(r, **q)) return tl::unexpected{*failure};
    auto files = draw_sheet(**q, r.wishes);
    if (!files) return files;
    const auto camera = r.exposure.read();
    if (!camera) return tl::unexpected{camera.error()};
    auto more = sheet_papers(**q, r.wishes, {*camera, calendar_path(r)});
    if (!more) return more;
    for (SheetFile& f : *more)
        files->push_back(std::move(f));
    return files;
}

int answer_sheet(const SheetRequest& r, std::ostream& out, std::ostream& err) {
    if (const auto failure = misplaced(r)) return report(*failure, err);
    const auto files = all_files(r);
    if (!files) return report(files.error(), err);
    if (files->empty())
        return report({bad_data, r.wishes.location +
                                     ": nothing to draw: a section and a year need a [room] with a "
                                     "[[window]] and a [[mark]]"},
                      err);
    if (!r.out_file.empty()) return write_one(r, *files, out, err);
    if (const auto failure = write_folder(r.out_folder, *files, r.force))
        return report(*failure, err);
    for (const SheetFile& f : *files)
        fmt::print(out, "{}\n", (std::filesystem::path{r.out_folder} / f.name).string());
    if (!r.pdf) return answered;
    if (const auto failure = print_pages(r.out_folder, *files, r.force, out, err))
        return report(*failure, err);
    return answered;
}

}  // namespace

void offer_sheet(CommandLine& line, Session& session) {
    auto request = std::make_shared<SheetRequest>();
    Options* command =
        line.add_command("sheet", "the light sheet: page, drawings, calendar, spreadsheet");
    SheetWishes& w = request->wishes;
    command->add_option("location", w.location, "location file (TOML)")
        ->type_name("FILE")
        ->required();
    w.dates.offer(*command);
    command->add_option("--out", request->out_folder, "folder for all files; made if absent")
        ->type_name("FOLDER");
    command->add_option("-o", request->out_file, "file for one of them; - is standard output")
        ->type_name("FILE");
    command->add_option("--only", w.only, "one kind of file, see below; may be given again")
        ->type_name("WHAT");
    command->add_option("--hours", w.hours, "local times of the patches on the plan: 10:00,12:00")
        ->type_name("TIMES");
    command->add_option("--window", w.window, "sections through this window only")
        ->type_name("NAME");
    command->add_option("--mark", w.mark, "sections and years of this mark only")
        ->type_name("NAME");
    command->add_option("--width", w.width_mm, "of the drawings, mm (default: 180)")
        ->type_name("MM");
    w.lock.offer(*command);
    offer_units(*command, w.units);
    w.what_if.offer(*command);
    request->exposure.offer(*command);
    command->get_option("--stop")->description("wanted: the page says how far each key is from it");
    command->remove_option(command->get_option("--tolerance"));  // no key is left out
    command->add_flag("--pdf", request->pdf, "print the page too, by a browser without a window");
    command->add_flag("--force", request->force, "overwrite files that keyhour did not write");
    command->footer(
        "example:\n"
        "  keyhour sheet locations/tallow-lane.toml --date 2026-03-10 --out sheet\n"
        "  keyhour sheet locations/tallow-lane.toml --date 2026-03-10 --lock 3h \\\n"
        "    --out sheet\n"
        "  keyhour sheet locations/tallow-lane.toml --only plan -o plan.svg\n"
        "kinds of file: plan, section, strip, year, page, calendar, spreadsheet, map\n"
        "files that keyhour wrote itself are replaced, others only with --force");
    command->callback([request, &session] {
        session.exit_code = answer_sheet(*request, session.out, session.err);
    });
}

}  // namespace keyhour::cli
