#include "batch_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <span>
#include <sstream>

#include "batch_lock.hpp"
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
#include "tell/batch_rows.hpp"
#include "text.hpp"
#include "thrown.hpp"
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
                                                      const std::string& text, Ask ask, Names names,
                                                      const read::Changes& changes) {
    auto read = item.line ? read::read_location_json(text, item.name, changes)
                          : read::read_location_text(text, item.name, changes);
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

ask::ChoiceRequest asked_of(const BatchQuestion& q) {
    return {q.key, q.criteria, tells_misses(q), q.all, true, q.only_fitting};
}

BatchLine key_line(const BatchQuestion& q, const tell::BatchSubject& subject,
                   const study::KeyChoice& choice, const study::RoomStudy& study) {
    BatchLine line{ask::standing_of(choice), {}};
    if (!line.fits && q.only_fitting) return line;
    switch (q.form) {
        case BatchForm::table:
            line.text = printed(tell::batch_key_rows(subject, choice, study));
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

void answer_key(const BatchQuestion& q, std::span<const site::LocalDate> dates,
                const site::Location& location, tell::BatchSubject subject, BatchOutcome& outcome) {
    ask::for_each_choice(location, dates, q.track, asked_of(q),
                         [&](const study::RoomStudy& study, study::DateChoice& day) {
                             subject.first = subject.last = day.date;
                             outcome.lines.push_back(key_line(q, subject, day.choice, study));
                         });
}

/// One line about all dates.
void answer_range(const BatchQuestion& q, const site::Location& location,
                  tell::BatchSubject subject, BatchOutcome& outcome) {
    const study::KeyChoice best = ask::choice_of_range(location, q.dates, q.track, asked_of(q));
    subject.first = q.dates.front();
    subject.last = q.dates.back();
    // Trees stand among the buildings in every season, if only by name.
    const site::Location named = site::in_season(location, q.dates.front());
    outcome.lines.push_back(key_line(q, subject, best, study::RoomStudy{named, q.track}));
}

void answer_day(const BatchQuestion& q, std::span<const site::LocalDate> dates,
                const site::Site& site, tell::BatchSubject subject, BatchOutcome& outcome) {
    for (const site::LocalDate date : dates) {
        const study::Day day = study::day(site, q.track->track(), date, q.band);
        subject.first = subject.last = date;
        BatchLine line;
        switch (q.form) {
            case BatchForm::table:
                line.text = printed({tell::batch_day_row(subject, day, site)});
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

BatchLine exterior_line(const BatchQuestion& q, const tell::BatchSubject& subject,
                        const study::SpotDay& day, const study::SpotLight& spot) {
    BatchLine line{ask::standing_of(day, q.criteria.min_hold), {}};
    if (!line.fits && q.only_fitting) return line;
    const std::string why_not = tell::why_not(line, q.criteria.min_hold);
    switch (q.form) {
        case BatchForm::table:
            line.text = printed({tell::batch_exterior_row(subject, day, spot, why_not)});
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

/// Locks, or why the place has none.
std::string answer_locks(const BatchQuestion& q, std::span<const site::LocalDate> dates,
                         const BatchItem& item, const std::string& text, site::Location location,
                         tell::BatchSubject subject, bool brief, BatchOutcome& outcome) {
    BriefPlace grid = place_of(q, item, location);
    auto place = locked_place(std::move(location), q.lock);
    if (!place) return place.error();
    const auto rigging = item.line ? read::read_rigging_json(text, item.name, q.changes)
                                   : read::read_rigging_text(text, item.name, q.changes);
    if (rigging) place->overlap_m = rigging->overlap_m;
    if (!item.line) place->units = read::read_recce_text(text, q.changes).units;
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
    const auto location = location_of(item, text, question.ask, names, question.changes);
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
    if (brief) {
        outcome.brief = place_of(question, item, *location);
        outcome.brief->dates =
            ask::brief_keys(*location, question.dates, question.track, asked_of(question));
    } else if (question.per_range) {
        answer_range(question, *location, subject, outcome);
    } else {
        answer_key(question, dates_of(question, item), *location, subject, outcome);
    }
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
    const auto thrown = thrown_by([&] { answer_text(question, item, *text, brief, outcome); });
    if (!thrown) return outcome;
    if (is_out_of_memory(thrown)) std::rethrow_exception(thrown);
    outcome.lines.clear();
    outcome.brief.reset();
    outcome.refusal = fmt::format("{}: {}\n", words::shown(item.name), fault_words(thrown));
    return outcome;
}

std::string printed(const tell::Paragraphs& paragraphs) {
    std::ostringstream out;
    print(out, paragraphs);
    return out.str();
}

std::string batch_head(const BatchQuestion& question) {
    if (question.form == BatchForm::json) return {};
    const bool table = question.form == BatchForm::table;
    switch (question.ask) {
        case Ask::key:
            return table ? tell::batch_key_head() : tell::key_csv_head();
        case Ask::exterior:
            return table ? tell::batch_exterior_head() : tell::exterior_csv_head();
        case Ask::day:
            return table ? tell::batch_day_head() : tell::day_csv_head();
        case Ask::lock:
            return table ? tell::batch_lock_head() : tell::lock_csv_head();
    }
    return {};
}

}  // namespace keyhour::cli
