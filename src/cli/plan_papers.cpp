#include "plan_papers.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <ostream>

#include "calendar_file.hpp"
#include "keyhour/site/dates.hpp"
#include "page_print.hpp"
#include "sheet_folder.hpp"
#include "tell/calendar.hpp"
#include "tell/plan_document.hpp"
#include "tell/shoot_events.hpp"
#include "tell/shoot_sheet.hpp"

namespace keyhour::cli {
namespace {

constexpr const char *plan_calendar = "plan.ics", *plan_spreadsheet = "plan.csv";

std::string day_page_name(site::LocalDate date, const char* ending) {
    return fmt::format("plan-{}.{}", site::iso_date(date), ending);
}

}  // namespace

std::optional<Failure> may_write_plan(const study::Shoot& shoot, const PlanPapers& papers) {
    std::vector<std::string> names{plan_calendar, plan_spreadsheet};
    for (const site::LocalDate day : shoot.days) {
        names.push_back(day_page_name(day, "html"));
        if (papers.pdf) names.push_back(day_page_name(day, "pdf"));
    }
    return may_fill(papers.folder, names, papers.force, papers.inputs);
}

std::optional<Failure> write_plan(const ask::PlanAnswer& answer, const tell::PlanQuestion& q,
                                  const PlanPapers& papers, std::ostream& out, std::ostream& err) {
    const auto in_folder = [&](const std::string& name) {
        return (std::filesystem::path{papers.folder} / name).string();
    };
    std::vector<SheetFile> files;
    for (std::size_t day = 0; day < answer.days.size(); ++day)
        files.push_back({day_page_name(q.shoot.days[answer.days[day].day], "html"),
                         tell::shoot_sheet(answer, q, day)});
    files.push_back(
        {plan_calendar,
         tell::calendar(tell::shoot_events(q.shoot, answer), tell::shoot_as_location(q.shoot),
                        calendar_made_at(), earlier_calendar(in_folder(plan_calendar)))});
    files.push_back({plan_spreadsheet, tell::plan_csv(q.shoot, answer)});
    if (auto failure = write_folder(papers.folder, files, papers.force)) return failure;
    for (const SheetFile& f : files)
        fmt::print(out, "{}\n", in_folder(f.name));
    if (!papers.pdf) return std::nullopt;
    return print_pages(papers.folder, files, papers.force, out, err);
}

}  // namespace keyhour::cli
