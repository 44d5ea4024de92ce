#include "sheet_papers.hpp"

#include <nlohmann/json.hpp>

#include "calendar_file.hpp"
#include "date_options.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/read_back.hpp"
#include "read/rigging_file.hpp"
#include "tell/calendar.hpp"
#include "tell/sheet_events.hpp"
#include "tell/sheet_geojson.hpp"
#include "tell/sheet_page.hpp"

namespace keyhour::cli {
namespace {

std::string page_name(const SheetQuestion& q, site::LocalDate date) {
    return q.dates.is_range ? "sheet-" + site::iso_date(date) + ".html" : std::string{"sheet.html"};
}

class PaperMaker {
public:
    PaperMaker(const SheetQuestion& q, const SheetWishes& wishes, const PaperWishes& papers)
        : q_{q}, wishes_{wishes}, papers_{papers} {}

    Answer<std::vector<SheetFile>> make();

private:
    [[nodiscard]] bool wants_any() const {
        return wants(wishes_, "page") || wants(wishes_, "calendar") ||
               wants(wishes_, "spreadsheet") || wants(wishes_, "map");
    }
    [[nodiscard]] std::optional<Failure> add_date(site::LocalDate date);

    const SheetQuestion& q_;
    const SheetWishes& wishes_;
    const PaperWishes& papers_;
    site::Rigging rigging_;
    std::vector<SheetFile> files_;
    std::vector<tell::SheetEvent> events_;
    std::vector<tell::Json> features_;
};

std::optional<Failure> PaperMaker::add_date(site::LocalDate date) {
    const study::RoomStudy* room = q_.study_on(date);
    const site::Location there = room ? room->location() : site::in_season(q_.location, date);
    const study::SheetDay day = study::sheet_day(q_.location, room, q_.shared, q_.strip_on(date));
    const auto hours = plan_hours(q_, wishes_, day.strip);
    if (!hours) return hours.error();
    const tell::SheetContent content{q_.location,
                                     there,
                                     room,
                                     day,
                                     rigging_,
                                     *hours,
                                     site::read_back(q_.location, date, date, {false, q_.units}),
                                     papers_.camera,
                                     q_.units};
    if (wants(wishes_, "page")) files_.push_back({page_name(q_, date), tell::sheet_page(content)});
    if (wants(wishes_, "calendar") || wants(wishes_, "spreadsheet"))
        for (tell::SheetEvent& e : tell::sheet_events(content))
            events_.push_back(std::move(e));
    if (wants(wishes_, "map")) features_.push_back(tell::geojson_of_day(content, q_.shared));
    return std::nullopt;
}

Answer<std::vector<SheetFile>> PaperMaker::make() {
    if (!wants_any()) return std::move(files_);
    const auto rigging = read::read_rigging(wishes_.location, wishes_.what_if.changes());
    if (!rigging) return data_failure(read::text(rigging.error()));
    rigging_ = *rigging;
    if (wants(wishes_, "map")) features_.push_back(tell::geojson_places(q_.location));
    int dates = 0;
    for (site::LocalDate d = q_.dates.first; d <= q_.dates.last; d = site::next_day(d)) {
        if (++dates > most_sheet_dates)
            return usage_failure("a sheet is of 31 dates at most: give a shorter range");
        if (const auto failure = add_date(d)) return tl::unexpected{*failure};
    }
    if (wants(wishes_, "calendar"))
        files_.push_back({calendar_name, tell::calendar(events_, q_.location, calendar_made_at(),
                                                        earlier_calendar(papers_.calendar_path))});
    if (wants(wishes_, "spreadsheet"))
        files_.push_back({spreadsheet_name, tell::sheet_csv(events_, q_.location)});
    if (wants(wishes_, "map")) files_.push_back({map_name, tell::geojson(q_.location, features_)});
    return std::move(files_);
}

}  // namespace

std::vector<std::string> paper_names(const SheetQuestion& question, const SheetWishes& wishes) {
    std::vector<std::string> names;
    const DateRange& dates = question.dates;
    if (wants(wishes, "page"))
        for (site::LocalDate d = dates.first; d <= dates.last; d = site::next_day(d))
            names.push_back(page_name(question, d));
    if (wants(wishes, "calendar")) names.emplace_back(calendar_name);
    if (wants(wishes, "spreadsheet")) names.emplace_back(spreadsheet_name);
    if (wants(wishes, "map")) names.emplace_back(map_name);
    return names;
}

Answer<std::vector<SheetFile>> sheet_papers(const SheetQuestion& question,
                                            const SheetWishes& wishes, const PaperWishes& papers) {
    return PaperMaker{question, wishes, papers}.make();
}

}  // namespace keyhour::cli
