#include "batch_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <new>
#include <span>
#include <sstream>

#include "batch_lock.hpp"
#include "batch_table.hpp"
#include "file/run_file.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/seasons.hpp"
#include "read/location_file.hpp"
#include "read/named_files.hpp"
#include "read/read_recce.hpp"
#include "read/rigging_file.hpp"
#include "shown_names.hpp"
#include "tell/batch_documents.hpp"
#include "tell/batch_lock.hpp"
#include "words/shown.hpp"

namespace keyhour::cli {
namespace {

using Ask = BatchQuestion::Ask;

tl::expected<std::string, std::string> text_of(const BatchItem& item) {
    if (!item.fault.empty()) return tl::unexpected{item.fault + '\n'};
    if (item.line) return *item.line;
    auto text =
        item.is_found ? read::plain_location_text(item.source) : read::location_text(item.source);
    if (!text) return tl::unexpected{text.error().text() + '\n'};
    return *std::move(text);
}

tl::expected<site::Location, std::string> location_of(const BatchItem& item,
                                                      const std::string& text, Ask ask,
                                                      Names names) {
    auto read = item.line ? read::read_location_json(text, item.name)
                          : read::read_location_text(text, item.name);
    if (!read) {
        // A file that the place names may serve many places.
        const bool is_own = std::all_of(read.error().begin(), read.error().end(),
                                        [&](const auto& p) { return p.file == item.name; });
        return tl::unexpected{(is_own ? "" : words::shown(item.name) + ": ") +
                              read::text(read.error())};
    }
    const char* missing = nullptr;
    if (ask == Ask::key || ask == Ask::lock) {
        if (!read->room)
            missing = "[room]";
        else if (read->room->windows.empty())
            missing = "[[window]]";
        else if (read->room->marks.empty())
            missing = "[[mark]]";
    } else if (ask == Ask::exterior && read->spots.empty()) {
        missing = "[[spot]]";
    }
    if (missing != nullptr)
        return tl::unexpected{fmt::format("{}: has no {}; this question needs one\n",
                                          words::shown(item.name), missing)};
    return with(names, *std::move(read));
}

/// Would a near miss be shown? A ranking keeps only what fits.
bool tells_misses(const BatchQuestion& q) {
    return !q.only_fitting && !q.is_ranking;
}

BatchLine key_line(const BatchQuestion& q, const tell::BatchSubject& subject,
                   study::KeyChoice& choice, const study::RoomStudy& study) {
    if (!q.all && choice.fitting.size() > 1) choice.fitting.resize(1);
    BatchLine line;
    line.fits = choice.fits();
    if (choice.fits()) {
        const study::KeyInterval& best = choice.fitting.front();
        line.sure = best.sure_hold();
        line.hold = best.hold();
        line.start = best.span->from;
    }
    if (!line.fits && q.only_fitting) return line;
    if (!q.per_range) study::describe(study, q.key, choice);
    switch (q.form) {
        case BatchForm::table:
            line.text = key_rows(subject, choice, study);
            break;
        case BatchForm::csv:
            line.text = tell::key_csv_records(subject, choice, study);
            break;
        case BatchForm::json:
            line.text = tell::key_json_line(subject, choice, study);
            break;
    }
    return line;
}

/// Asks about the dates of each season in turn: between two of them leaves open or fall.
/// @param ask  (study, dates)
template <class AskSeason>
void for_each_season(const BatchQuestion& q, const site::Location& location,
                     std::span<const site::LocalDate> dates, const AskSeason& ask) {
    for (const site::Season& season : site::seasons(location, dates.front(), dates.back())) {
        const auto end = std::upper_bound(dates.begin(), dates.end(), season.last);
        const auto of_season = dates.first(static_cast<std::size_t>(end - dates.begin()));
        dates = dates.subspan(of_season.size());
        if (of_season.empty()) continue;
        const site::Location grown = site::in_season(location, season.first);
        ask(study::RoomStudy{grown, q.track}, of_season);
    }
}

void answer_key(const BatchQuestion& q, std::span<const site::LocalDate> dates,
                const study::RoomStudy& study, tell::BatchSubject subject, BatchOutcome& outcome) {
    for (study::DateChoice& day : study::key_choices(study, dates, q.key, q.criteria)) {
        subject.first = subject.last = day.date;
        if (tells_misses(q)) study::add_miss(study, {&day.date, 1}, q.key, day.choice);
        outcome.lines.push_back(key_line(q, subject, day.choice, study));
    }
}

/// One line about all dates.
void answer_range(const BatchQuestion& q, const site::Location& location,
                  tell::BatchSubject subject, BatchOutcome& outcome) {
    constexpr std::size_t stretch = 366;  // only the best of each is kept
    study::KeyChoice total;
    for_each_season(q, location, q.dates, [&](const study::RoomStudy& study, auto dates) {
        study::KeyChoice season;
        while (!dates.empty()) {
            const auto now = dates.first(std::min(stretch, dates.size()));
            dates = dates.subspan(now.size());
            for (study::DateChoice& day : study::key_choices(study, now, q.key, q.criteria))
                study::add_choice(season, std::move(day.choice), q.all);
        }
        study::describe(study, q.key, season);  // while its trees stand as they did
        study::add_choice(total, std::move(season), q.all);
    });
    subject.first = q.dates.front();
    subject.last = q.dates.back();
    if (tells_misses(q))
        for_each_season(q, location, q.dates, [&](const study::RoomStudy& study, auto dates) {
            study::add_miss(study, dates, q.key, total);
        });
    // Trees stand among the buildings in every season, if only by name.
    const site::Location named = site::in_season(location, q.dates.front());
    const study::RoomStudy names{named, q.track};
    outcome.lines.push_back(key_line(q, subject, total, names));
}

void answer_day(const BatchQuestion& q, std::span<const site::LocalDate> dates,
                const site::Site& site, tell::BatchSubject subject, BatchOutcome& outcome) {
    for (const site::LocalDate date : dates) {
        const study::Day day = study::day(site, q.track->track(), date, q.band);
        subject.first = subject.last = date;
        BatchLine line;
        switch (q.form) {
            case BatchForm::table:
                line.text = day_row(subject, day, site);
                break;
            case BatchForm::csv:
                line.text = tell::day_csv_record(subject, day, site);
                break;
            case BatchForm::json:
                line.text = tell::day_json_line(subject, day, site, q.band);
                break;
        }
        outcome.lines.push_back(std::move(line));
    }
}

/// The longest light from the side that the spot wants, judged as a hold is.
BatchLine exterior_line(const BatchQuestion& q, const tell::BatchSubject& subject,
                        const study::SpotDay& day, const study::SpotLight& spot) {
    BatchLine line;
    std::string why_not = "no direct light as wanted";
    if (const study::SafeStart* best = study::longest(day.for_wanted)) {
        line.hold = best->light.length();
        line.start = best->light.from;
        why_not.clear();
        if (line.hold < q.criteria.min_hold)
            why_not =
                fmt::format("light of {:.0f} min, {:g} wanted", std::floor(line.hold.count() / 60),
                            q.criteria.min_hold.count() / 60);
    }
    line.fits = why_not.empty();
    if (!line.fits && q.only_fitting) return line;
    switch (q.form) {
        case BatchForm::table:
            line.text = exterior_row(subject, day, spot, why_not);
            break;
        case BatchForm::csv:
            line.text = tell::exterior_csv_record(subject, day, spot, why_not);
            break;
        case BatchForm::json:
            line.text = tell::exterior_json_line(subject, day, spot, why_not);
            break;
    }
    return line;
}

void answer_exterior(const BatchQuestion& q, std::span<const site::LocalDate> dates,
                     const site::Location& location, tell::BatchSubject subject,
                     BatchOutcome& outcome) {
    std::vector<study::SpotLight> spots;
    for (std::size_t i = 0; i < location.spots.size(); ++i)
        spots.emplace_back(location, i, q.track, q.spot);
    for (const site::LocalDate date : dates)
        for (const study::SpotLight& spot : spots) {
            subject.first = subject.last = date;
            outcome.lines.push_back(exterior_line(q, subject, spot.on(date), spot));
        }
}

/// Without its dates.
BriefPlace place_of(const BatchQuestion& q, const BatchItem& item, const site::Location& location) {
    return {location.site.name,
            q.form == BatchForm::table ? words::shown(item.source) : item.source,
            {location.site.observer.latitude, location.site.observer.longitude},
            location.site.zone,
            {}};
}

BriefPlace brief_of(const BatchQuestion& q, const BatchItem& item, const site::Location& location) {
    BriefPlace out = place_of(q, item, location);
    for_each_season(q, location, q.dates, [&](const study::RoomStudy& study, auto dates) {
        for (study::DateChoice& day : study::key_choices(study, dates, q.key, q.criteria)) {
            BriefDate date{day.date, {}, day.choice.why_not};
            for (const study::KeyInterval& k : day.choice.fitting)
                date.holds.push_back({*k.span, k.sure, study.room().marks[k.mark].name,
                                      study.room().windows[k.window].name});
            out.dates.push_back(std::move(date));
        }
    });
    return out;
}

/// Locks, or why the place has none.
std::string answer_locks(const BatchQuestion& q, std::span<const site::LocalDate> dates,
                         const BatchItem& item, const std::string& text, site::Location location,
                         tell::BatchSubject subject, bool brief, BatchOutcome& outcome) {
    BriefPlace grid = place_of(q, item, location);
    auto place = locked_place(std::move(location), q.lock);
    if (!place) return place.error();
    const auto rigging = item.line ? read::read_rigging_json(text, item.name)
                                   : read::read_rigging_text(text, item.name);
    if (rigging) place->overlap_m = rigging->overlap_m;
    if (!item.line) place->units = read::read_recce_text(text).units;
    if (!brief) return answer_lock(q, dates, *place, std::move(subject), outcome);
    std::string fault = brief_locks(q, q.dates, *place, grid);
    if (fault.empty()) outcome.brief = std::move(grid);
    return fault;
}

/// The item's part of the dates; all of them for a question about the range.
std::span<const site::LocalDate> dates_of(const BatchQuestion& q, const BatchItem& item) {
    const std::span<const site::LocalDate> all{q.dates};
    const std::size_t parts = q.parts(), n = all.size();
    const std::size_t first = n * item.part / parts, last = n * (item.part + 1) / parts;
    return all.subspan(first, last - first);
}

void answer_text(const BatchQuestion& question, const BatchItem& item, const std::string& text,
                 bool brief, BatchOutcome& outcome) {
    const Names names = question.form == BatchForm::table ? Names::shown : Names::raw;
    const auto location = location_of(item, text, question.ask, names);
    if (!location) {
        outcome.refusal = location.error();
        return;
    }
    const std::string source = names == Names::shown ? words::shown(item.source) : item.source;
    const tell::BatchSubject subject{source, {}, {}, question.per_range, location->questions};
    if (question.ask == Ask::day) {
        answer_day(question, dates_of(question, item), location->site, subject, outcome);
        return;
    }
    if (question.ask == Ask::exterior) {
        answer_exterior(question, dates_of(question, item), *location, subject, outcome);
        return;
    }
    if (question.ask == Ask::lock) {
        const std::string fault = answer_locks(question, dates_of(question, item), item, text,
                                               *location, subject, brief, outcome);
        if (!fault.empty()) outcome.refusal = words::shown(item.name) + ": " + fault + '\n';
        return;
    }
    if (brief)
        outcome.brief = brief_of(question, item, *location);
    else if (question.per_range)
        answer_range(question, *location, subject, outcome);
    else
        for_each_season(question, *location, dates_of(question, item),
                        [&](const study::RoomStudy& study, auto dates) {
                            answer_key(question, dates, study, subject, outcome);
                        });
}

}  // namespace

BatchOutcome pass_over(const BatchItem& item) {
    BatchOutcome outcome;
    outcome.is_new_place = item.part == 0;
    if (!outcome.is_new_place) return outcome;
    const auto text = text_of(item);
    outcome.digest = file::digest(text ? *text : text.error(), file::digest(item.source));
    return outcome;
}

BatchOutcome answer_item(const BatchQuestion& question, const BatchItem& item, bool brief) {
    BatchOutcome outcome;
    outcome.is_new_place = item.part == 0;
    const auto text = text_of(item);
    outcome.digest = file::digest(text ? *text : text.error(), file::digest(item.source));
    if (!text) {
        outcome.refusal = text.error();
        return outcome;
    }
    // Trouble with one place is told of that place; the others are answered.
    try {
        answer_text(question, item, *text, brief, outcome);
    } catch (const std::bad_alloc&) {
        throw;
    } catch (const std::exception& error) {
        outcome.lines.clear();
        outcome.brief.reset();
        outcome.refusal = fmt::format("{}: an error inside the program: {}\n",
                                      words::shown(item.name), error.what());
    }
    return outcome;
}

std::string batch_head(const BatchQuestion& question) {
    if (question.form == BatchForm::json) return {};
    const bool table = question.form == BatchForm::table;
    switch (question.ask) {
        case Ask::key:
            return table ? key_table_head() : tell::key_csv_head();
        case Ask::exterior:
            return table ? exterior_table_head() : tell::exterior_csv_head();
        case Ask::day:
            return table ? day_table_head() : tell::day_csv_head();
        case Ask::lock:
            return table ? lock_table_head() : tell::lock_csv_head();
    }
    return {};
}

}  // namespace keyhour::cli
