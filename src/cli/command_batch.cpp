#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <iostream>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>
#include <thread>

#include "batch_answer.hpp"
#include "batch_output.hpp"
#include "batch_request.hpp"
#include "batch_source.hpp"
#include "command.hpp"
#include "file/atomic_file.hpp"
#include "file/output_place.hpp"
#include "file/run_file.hpp"
#include "held_stop.hpp"
#include "ordered_work.hpp"
#include "progress.hpp"
#include "tell/batch_rank.hpp"
#include "tell/compare_grid.hpp"
#include "tell/document.hpp"
#include "tell/visit_page.hpp"
#include "text.hpp"
#include "words/guarded_stream.hpp"

namespace keyhour::cli {
namespace {

constexpr int by_signal = 128;  // a shell's code for "ended by signal N" is 128 + N

std::size_t thread_count(const BatchRequest& request) {
    if (request.threads > 0) return static_cast<std::size_t>(request.threads);
    return std::max(1U, std::thread::hardware_concurrency());
}

void print_ranking(const BatchQuestion& question, const std::vector<const std::string*>& best,
                   std::ostream& out) {
    const bool is_csv = question.form == BatchForm::csv;
    if (question.with_header) {
        const std::string head = batch_head(question);
        out << (is_csv ? tell::ranked_csv_head(head) : head);
    }
    for (std::size_t i = 0; i < best.size(); ++i) {
        if (question.form == BatchForm::table)
            out << *best[i];
        else
            out << (is_csv ? tell::ranked_csv(*best[i], i + 1)
                           : tell::ranked_json(*best[i], i + 1));
    }
    if (question.form == BatchForm::table && best.empty()) out << "none fits\n";
}

void print_compare(const BatchQuestion& question, const ask::Comparison& compared,
                   std::ostream& out) {
    if (question.form == BatchForm::json) return tell::write(out, tell::compare_json(compared));
    if (question.form == BatchForm::csv) {
        out << tell::compare_csv(compared, question.with_header);
        return;
    }
    const auto what =
        question.ask == BatchQuestion::Ask::lock ? tell::Compared::locks : tell::Compared::keys;
    print(out, {tell::compare_head(what)});
    for (const std::string& line : tell::compare_lines(compared))
        out << line << '\n';
    print(out, tell::compare_foot(compared, what));
}

void print_visit(const BatchQuestion& question, const std::vector<BriefPlace>& places,
                 std::ostream& out) {
    const std::vector<ask::VisitDay> days = ask::visit(places, question.visit);
    const tell::VisitAnswer answer{days, places, question.visit};
    switch (question.form) {
        case BatchForm::table:
            return print(out, tell::visit_page(answer));
        case BatchForm::json:
            for (const tell::Json& document : tell::visit_documents(answer))
                tell::write(out, document);
            return;
        case BatchForm::csv:
            if (question.with_header) out << tell::visit_csv_head();
            out << tell::visit_csv_records(answer);
            return;
    }
}

/// One run over all places: the outcomes come in one by one, in order.
class BatchRun {
public:
    BatchRun(const BatchRequest& request, const BatchQuestion& question, Session& session)
        : request_{request},
          question_{question},
          session_{session},
          source_{request.inputs, request.recursive, question.parts(), session.in},
          progress_{session.err, is_terminal(session.err),
                    is_terminal(session.err) ? source_.count() : std::nullopt},
          ranking_{static_cast<std::size_t>(request.best.value_or(0))} {}

    int run() {
        if (const auto failure = open()) return report(*failure, session_.err);
        if (file_ && file_->has_lost_note())
            session_.err << fmt::format(
                "keyhour batch: {0} is there without its note {0}.resume: the run is finished, or "
                "the note is lost. All is answered again and compared with it\n",
                request_.out);
        const HeldStop stop{HeldStop::Then::tell};
        work_through();
        progress_.clear();
        return finish();
    }

private:
    static bool is_terminal(const std::ostream& err) {
        return words::GuardedBuffer::behind(err) == std::cerr.rdbuf() &&
               ::isatty(STDERR_FILENO) == 1;
    }
    [[nodiscard]] bool is_whole() const {
        return request_.compare || request_.visit || request_.best;
    }

    std::optional<Failure> open() {
        if (request_.out.empty()) {
            if (!is_whole() && question_.with_header) session_.out << batch_head(question_);
            return std::nullopt;
        }
        if (const auto failure = may_begin(request_)) return failure;
        if (is_whole()) {
            auto file = file::AtomicFile::create(request_.out, file::AtomicFile::Existing::replace);
            if (!file) return Failure{bad_data, file.error()};
            whole_file_.emplace(*std::move(file));
            return std::nullopt;
        }
        auto file = file::RunFile::open(request_.out,
                                        request_.resume  ? file::RunFile::Start::go_on
                                        : request_.force ? file::RunFile::Start::over_all
                                                         : file::RunFile::Start::fresh,
                                        question_.digest);
        if (!file) return Failure{bad_data, file.error()};
        file_.emplace(*std::move(file));
        kept_ = file_->kept();
        if (kept_.inputs == 0 && question_.with_header) head_ = batch_head(question_);
        return std::nullopt;
    }

    void work_through() {
        struct Numbered {
            std::size_t number;
            BatchItem item;
        };
        std::size_t taken = 0;
        const auto take = [&]() -> std::optional<Numbered> {
            if (HeldStop::asked_by() != 0) return std::nullopt;
            auto item = source_.next();
            // A line that a signal cut short is no place.
            if (!item || HeldStop::asked_by() != 0) return std::nullopt;
            return Numbered{taken++, *std::move(item)};
        };
        const auto work = [&](const Numbered& numbered) {
            if (numbered.number < kept_.inputs) return pass_over(numbered.item);
            return answer_item(question_, numbered.item, request_.compare || request_.visit);
        };
        const auto give = [this](BatchOutcome& outcome) { return take_in(outcome); };
        OrderedWork pipeline{thread_count(request_), take, work, give};
    }

    /// @return false: stop
    bool take_in(BatchOutcome& outcome) {
        if (outcome.is_new_place) done_.digest = next_digest(done_.digest, outcome.digest);
        ++done_.inputs;
        if (done_.inputs <= kept_.inputs) return pass(outcome);
        if (outcome.is_new_place) ++places_;
        if (!outcome.refusal.empty()) {
            progress_.clear();
            session_.err << outcome.refusal;
            ++done_.refused;
        }
        progress_.show(places_, done_.refused);
        if (outcome.brief) return keep(*std::move(outcome.brief));
        if (request_.best) {
            for (BatchLine& line : outcome.lines)
                ranking_.add(line, std::move(line.text));
            return true;
        }
        return write(outcome);
    }

    static std::uint64_t next_digest(std::uint64_t before, std::uint64_t added) {
        return (before ^ added) * 1099511628211ULL + 1;  // order matters
    }

    /// An item that the interrupted run has answered.
    bool pass(const BatchOutcome& outcome) {
        if (outcome.is_new_place) ++places_;
        if (done_.inputs < kept_.inputs) return true;
        is_changed_ = done_.digest != kept_.digest;
        done_ = kept_;
        return !is_changed_;
    }

    bool keep(BriefPlace place) {
        const std::size_t most =
            request_.visit ? study::most_visit_rooms : ask::most_compared_rooms;
        if (briefs_.size() == most) {
            is_too_much_ = true;
            return false;
        }
        briefs_.push_back(std::move(place));
        return true;
    }

    bool write(const BatchOutcome& outcome) {
        std::string text = std::move(head_);
        head_.clear();
        for (const BatchLine& line : outcome.lines) {
            text += line.text;
            has_row_ = has_row_ || !line.text.empty();
        }
        done_.lines += outcome.lines.size();
        if (file_) return file_->append(text, done_);
        session_.out << text;
        return session_.out.good();
    }

    int finish() {
        if (is_too_much_)
            return report(
                {wrong_usage,
                 request_.visit
                     ? fmt::format("--visit plans a day of up to {} rooms", study::most_visit_rooms)
                     : fmt::format("--compare shows up to {} rooms in its grid; "
                                   "--best ranks any number",
                                   ask::most_compared_rooms)},
                session_.err);
        if (file_ && (is_changed_ || (HeldStop::asked_by() == 0 && done_.inputs < kept_.inputs)))
            return report({bad_data, "the places are not those with which " + request_.out +
                                         " was begun: --resume needs the same, in the same order"},
                          session_.err);
        if (const int code = finish_output(); code != answered) return code;
        if (done_.refused > 0) {
            session_.err << fmt::format("keyhour batch: {} of {} inputs answered, {} refused\n",
                                        places_ - done_.refused, places_, done_.refused);
            return partly_failed;
        }
        return answered;
    }

    /// Says what is kept of a run that did not come to its end.
    int finish_output() {
        const int signal = HeldStop::asked_by();
        if (is_whole()) {
            if (signal == 0) return write_whole();
            session_.err << "keyhour batch: stopped by a signal; nothing was written, as the "
                            "answer needs all places\n";
            return by_signal + signal;
        }
        if (!file_) return finish_stream(signal);
        std::string head = std::move(head_);  // no place was answered
        const bool is_good = (head.empty() || file_->append(head, done_)) &&
                             (signal == 0 ? file_->finish() : file_->write_out());
        if (is_good && signal == 0) return told_whole();
        if (file_->holds_other())
            return report(
                {bad_data, request_.out + ": holds something else than this question answers now: "
                                          "nothing of it was written over; give another name, or "
                                          "--force in place of --resume begins anew"},
                session_.err);
        session_.err << "keyhour batch: "
                     << (is_good ? std::string{"stopped by a signal"}
                                 : request_.out + " could not be written: " + file_->error())
                     << fmt::format(
                            "; {} keeps {} lines of {} inputs, --resume goes on from there\n",
                            request_.out, file_->kept().lines, file_->kept().inputs);
        return is_good ? by_signal + signal : static_cast<int>(bad_data);
    }

    int told_whole() {
        if (file_->has_lost_note())
            session_.err << fmt::format("keyhour batch: {} {}\n", request_.out,
                                        file_->was_whole()
                                            ? "was whole already: nothing was added"
                                            : "was not whole: what was missing is added");
        return answered;
    }

    int finish_stream(int signal) {
        const bool none = signal == 0 && question_.only_fitting && !has_row_;
        if (none && places_ > done_.refused && question_.form == BatchForm::table)
            session_.out << "none fits\n";
        session_.out.flush();
        const bool is_good = session_.out.good();
        if (is_good && signal == 0) return answered;
        session_.err << "keyhour batch: "
                     << (is_good ? "stopped by a signal" : "the output takes no more")
                     << fmt::format(
                            "; {} inputs were answered. With --out FILE a run can be gone "
                            "on with (--resume)\n",
                            places_ - done_.refused);
        return is_good ? by_signal + signal : static_cast<int>(answered);
    }

    int write_whole() {
        std::ostream& out = whole_file_ ? whole_file_->stream() : session_.out;
        if (request_.best) {
            print_ranking(question_, ranking_.best_first(), out);
        } else if (!briefs_.empty()) {
            request_.compare ? print_compare(question_, ask::compare(std::move(briefs_)), out)
                             : print_visit(question_, briefs_, out);
        }
        if (!whole_file_) return answered;
        // A run may have begun to write there meanwhile.
        const auto place = file::output_place(request_.out);
        if (place && file::is_being_written(*place))
            return report({bad_data, request_.out + ": another run is writing it"}, session_.err);
        if (const auto done = whole_file_->commit(); !done)
            return report({bad_data, done.error()}, session_.err);
        if (place) file::delete_note(*place);
        return answered;
    }

    const BatchRequest& request_;
    const BatchQuestion& question_;
    Session& session_;
    BatchSource source_;
    Progress progress_;
    ask::Ranking<std::string> ranking_;
    std::optional<file::AtomicFile> whole_file_;
    std::optional<file::RunFile> file_;
    file::RunProgress kept_, done_;
    std::vector<BriefPlace> briefs_;
    std::string head_;
    std::size_t places_ = 0;
    bool is_changed_ = false, is_too_much_ = false, has_row_ = false;
};

int answer_batch(const BatchRequest& request, Session& session) {
    const auto question = read_question(request);
    if (!question) return report(question.error(), session.err);
    if (request.compare && question->dates.size() > ask::most_compared_dates)
        return report({wrong_usage, fmt::format("--compare shows up to {} dates in its grid",
                                                ask::most_compared_dates)},
                      session.err);
    return BatchRun{request, *question, session}.run();
}

/// Adds options under one heading of the help.
struct HelpGroup {
    Options& command;
    const char* heading;

    template <class Value>
    void option(const char* name, Value& value, const char* type, const char* text) const {
        command.add_option(name, value, text)->type_name(type)->group(heading);
    }
    void flag(const char* name, bool& value, const char* text) const {
        command.add_flag(name, value, text)->group(heading);
    }
};

void offer_question(Options& command, BatchRequest& r) {
    const HelpGroup with{command, "The question"};
    with.option("--ask", r.ask, "WHAT", "key, lock, exterior or day (default: key)");
    with.option("--per", r.per, "WHAT", "an answer a date (default), or the best of the range");
    with.option("--coverage", r.coverage_percent, "PERCENT",
                "of the mark that must be lit (default: 95)");
    with.option("--key-angle", r.key_angle, "LOW,HIGH",
                "degrees from the lens axis (default: 25,70)");
    with.option("--altitude", r.altitude, "LOW,HIGH",
                "degrees of the sun, apparent (default: 8,55)");
    with.option("--near", r.near_m, "M", "other sun this near needs a cover (default: 1.5)");
    with.flag("--as-is", r.as_is, "only what needs no cover");
    with.option("--late-light", r.late_light, "DEG,DEG",
                "exterior, day: altitudes of the sun (default: -4,6)");
    with.option("--minutes", r.lock_min, "MIN", "lock: its length; else as the file says, or 120");
    with.option("--hours", r.hours, "FROM,TO",
                "lock: working hours; else the file's, or 08:00,20:00");
    r.what_if.offer(command);
    command.get_option(change_option)->group("The question");
    with.option("--key-window", r.key_window, "NAME", "lock: the lamp's window in every place");
}

void offer_criteria(Options& command, BatchRequest& r) {
    const HelpGroup with{command, "What fits"};
    with.option("--min-hold", r.min_hold_min, "MIN",
                "at least this hold; of an exterior: wanted light");
    with.option("--min-sure", r.min_sure_min, "MIN", "at least this sure part");
    with.option("--min-level-lx", r.min_level_lx, "LX",
                "at least this direct sun at the mark, clear sky");
    with.option("--earliest-start", r.earliest_start, "HH:MM",
                "local; what lies before is cut off");
    with.option("--latest-end", r.latest_end, "HH:MM", "local; what lies after is cut off");
    with.flag("--only-fitting", r.only_fitting, "leave out what does not fit");
    with.flag("--all", r.all, "all intervals that fit, not only the best");
    with.option("--best", r.best, "N", "rank all, and show the N best");
}

void offer_together(Options& command, BatchRequest& r) {
    const HelpGroup with{command, "Rooms together"};
    with.flag("--compare", r.compare, "one grid of rooms and dates");
    with.flag("--visit", r.visit, "rooms to be reached on one day, in order");
    with.option("--speed-kmh", r.speed_kmh, "KM/H", "from room to room");
    with.option("--detour", r.detour, "TIMES", "road over crow's flight (default: 1.3)");
    with.option("--setup", r.setup_min, "MIN", "from arriving to the first take (default: 30)");
}

void offer_output(Options& command, BatchRequest& r) {
    const HelpGroup with{command, "Output"};
    with.flag("--csv", r.csv, "RFC 4180, in place of a table");
    with.flag("--json", r.json, "one JSON document a line");
    with.flag("--no-header", r.no_header, "leave out the first line, to join outputs");
    with.option("--out", r.out, "FILE", "write there");
    with.flag("--resume", r.resume, "go on with an interrupted run into --out");
    with.flag("--force", r.force, "over an --out that keyhour did not write");
    with.option("--threads", r.threads, "N", "default: one a processor");
}

constexpr const char* batch_examples =
    "example:\n"
    "  keyhour batch locations --from 2026-03-01 --to 2026-03-31 --weekdays mon,tue\n"
    "  keyhour batch locations --dates 2026-03-10,2026-03-12 --compare\n"
    "  keyhour batch locations --dates 2026-03-10,2026-03-12 --ask lock --minutes 3h\n"
    "  keyhour batch - --date 2026-03-10 --min-hold 30 --json < places.ndjson\n"
    "--out FILE: replaces what keyhour wrote itself, other files only with --force,\n"
    "and never one of the inputs\n"
    "exit code: 0 answered, 1 nothing or not all could be written, 2 wrong usage,\n"
    "3 some places were refused or could not be read (the rest are answered), 128 + N\n"
    "stopped by signal N. A reader that stops early (| head) changes none of these";

}  // namespace

void offer_batch(CommandLine& line, Session& session) {
    auto request = std::make_shared<BatchRequest>();
    Options* command =
        line.add_command("batch", "key, lock, exterior or day over many places and dates");
    command
        ->add_option("places", request->inputs,
                     "location files, folders of them, .ndjson files;\n- for lines of JSON on "
                     "standard input")
        ->type_name("FILE");
    command->add_flag("--recursive", request->recursive, "folders within folders, too");
    request->dates.offer(*command);
    offer_question(*command, *request);
    offer_criteria(*command, *request);
    offer_together(*command, *request);
    offer_output(*command, *request);
    command->footer(batch_examples);
    command->callback([request, &session] { session.exit_code = answer_batch(*request, session); });
}

}  // namespace keyhour::cli
