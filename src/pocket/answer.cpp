#include "answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cli/date_options.hpp"
#include "command_answer.hpp"
#include "drawings.hpp"
#include "file/held_files.hpp"
#include "keyhour/site/magnetic.hpp"
#include "keyhour/site/nearest.hpp"
#include "keyhour/site/quoted.hpp"
#include "keyhour/version.hpp"
#include "location_problems.hpp"
#include "read/location_file.hpp"
#include "site/zone_table.hpp"
#include "tell/document.hpp"
#include "tell/zone_table_document.hpp"

namespace keyhour::pocket {
namespace {

constexpr std::array<const char*, 5> other_questions{"draw", "sheet", "calendar", "about", "zones"};

/// A reply's members, written as they come; documents are laid in as they are.
class ReplyText {
public:
    void add(const char* name, const Json& value) { add_text(name, tell::json_text(value)); }
    void add_text(const char* name, const std::string& json) {
        text_ += fmt::format(",\"{}\":{}", name, json);
    }
    [[nodiscard]] std::string finish() const { return text_ + '}'; }

private:
    std::string text_ = "{\"ok\":true";
};

Json texts_by_name(const std::vector<std::pair<std::string, std::string>>& texts) {
    Json out = Json::object();
    for (const auto& [name, text] : texts)
        out[name] = text;
    return out;
}

std::string refusal(const Problems& problems) {
    Json out{{"ok", false}, {"problems", Json::array()}};
    for (const Problem& problem : problems) {
        Json told;
        if (problem.line > 0) told["line"] = problem.line;
        if (problem.column > 0) told["column"] = problem.column;
        if (!problem.field.empty()) told["field"] = problem.field;
        told["text"] = problem.text;
        out["problems"].push_back(std::move(told));
    }
    return tell::json_text(out);
}

Reply<std::string> drawn(const Request& request) {
    const auto drawings = draw(request);
    if (!drawings) return tl::unexpected{drawings.error()};
    ReplyText reply;
    reply.add("document", drawings->document);
    reply.add("drawings", texts_by_name(drawings->svg));
    return reply.finish();
}

Reply<std::string> on_paper(const Request& request) {
    const auto files = papers(request);
    if (!files) return tl::unexpected{files.error()};
    ReplyText reply;
    reply.add("files", texts_by_name(*files));
    return reply.finish();
}

/// By a command, with the drawings of the same date where they are wanted.
Reply<std::string> answered(const Request& request) {
    const auto answer = answer_by_command(request);
    if (!answer) return tl::unexpected{answer.error()};
    ReplyText reply;
    if (request.lines) reply.add("lines", answer->lines);
    if (!answer->document.empty()) reply.add_text("document", answer->document);
    if (!request.drawings) return reply.finish();
    Request drawing = request;
    drawing.options = Json::object();
    for (const char* shared : {"date", "units", "time", "width"})
        if (const auto at = request.options.find(shared); at != request.options.end())
            drawing.options[shared] = *at;
    if (request.ask == "year") drawing.options["only"] = "year";
    const auto drawings = draw(drawing);
    if (!drawings) return tl::unexpected{drawings.error()};
    reply.add("frames", drawings->document);
    reply.add("drawings", texts_by_name(drawings->svg));
    return reply.finish();
}

Reply<std::string> unknown(const std::string& ask) {
    std::vector<std::string> known = command_questions();
    known.insert(known.end(), other_questions.begin(), other_questions.end());
    const auto near = site::nearest(ask, known);
    return refused("ask", fmt::format("there is no question {}; {}", site::quoted(ask),
                                      near ? fmt::format("did you mean \"{}\"?", *near)
                                           : fmt::format("accepted: {}", fmt::join(known, ", "))));
}

/// What this is, and which zones it knows.
std::string about() {
    ReplyText reply;
    reply.add("version", version());
    std::vector<std::string> questions = command_questions();
    questions.insert(questions.end(), other_questions.begin(), other_questions.end());
    reply.add("questions", questions);
    reply.add("zones", site::zone_source().names());
    reply.add("magnetic_model", {{"first_year", site::magnetic_first_year},
                                 {"last_year", site::magnetic_last_year - 1}});
    return reply.finish();
}

/// Takes a table of zones, once, for all questions after it.
Reply<std::string> with_zones(const Request& request) {
    const auto table = request.options.find("table");
    if (table == request.options.end()) return refused("table", "table is missing");
    auto rows = tell::zone_table_in(*table);
    if (!rows) return refused("table", rows.error());
    const std::size_t known = rows->size();
    if (const auto fault = site::use_zone_table(*std::move(rows))) return refused("table", *fault);
    ReplyText reply;
    reply.add("zones", known);
    return reply.finish();
}

Reply<std::string> reply_to(const Request& request) {
    if (request.ask == "about") return about();
    if (request.ask == "zones") return with_zones(request);
    const bool by_command = is_command(request.ask);
    if (!by_command && request.ask != "draw" && request.ask != "sheet" && request.ask != "calendar")
        return unknown(request.ask);
    std::map<std::string, std::string> texts = request.files;
    texts[request.name] = request.location;
    const file::HeldFiles held{std::move(texts)};
    // Its problems are told here, each with its place.
    read::Changes changes;
    for (const std::string& change : request.changes)
        changes.push_back({change});
    if (const auto read = read::read_location(request.name, changes); !read)
        return tl::unexpected{problems_of(read.error(), request.name, request.location)};
    if (by_command) return answered(request);
    return request.ask == "draw" ? drawn(request) : on_paper(request);
}

}  // namespace

std::string answer(std::string_view request_json) {
    const auto request = read_request(request_json);
    if (!request) return refusal(request.error());
    if (request->now_s) cli::stop_clock(Instant::from_unix_s(*request->now_s));
    auto reply = reply_to(*request);
    cli::stop_clock(std::nullopt);
    return reply ? *std::move(reply) : refusal(reply.error());
}

}  // namespace keyhour::pocket
