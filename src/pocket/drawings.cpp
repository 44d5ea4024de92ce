#include "drawings.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/exposure_options.hpp"
#include "cli/sheet_drawings.hpp"
#include "cli/sheet_papers.hpp"
#include "draw/plan_drawing.hpp"
#include "draw/strip_drawing.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/seasons.hpp"
#include "request_options.hpp"
#include "tell/document.hpp"

namespace keyhour::pocket {
namespace {

struct SheetWish {
    cli::SheetWishes wishes;
    cli::ExposureOptions exposure;
    std::string time;
};

/// What the request wishes for. @param only  where it says nothing
Reply<SheetWish> wish_of(const Request& request, std::vector<std::string> only) {
    SheetWish wish;
    cli::SheetWishes& w = wish.wishes;
    w.width_mm = draw::phone_width_mm;
    w.in_page = true;
    RequestLine line;
    cli::Options* command = line.add_command(request.ask, {});
    w.dates.offer(*command);
    command->add_option("--only", w.only, {});
    command->add_option("--hours", w.hours, {});
    command->add_option("--time", wish.time, {})->excludes(command->get_option("--hours"));
    command->add_option("--window", w.window, {});
    command->add_option("--mark", w.mark, {});
    command->add_option("--width", w.width_mm, {})->type_name("MM");
    w.lock.offer(*command);
    command->add_option("--units", w.units, {});
    wish.exposure.offer(*command);
    Json options = request.options;
    if (options.contains("to") && !options.contains("from") && options.contains("date")) {
        options["from"] = options["date"];
        options.erase("date");
    }
    if (auto problems = line.answer(options); !problems.empty()) return tl::unexpected{problems};
    if (w.only.empty()) w.only = std::move(only);
    if (!wish.time.empty()) w.hours = wish.time;
    w.location = request.name;
    w.what_if.typed = request.changes;
    return wish;
}

tl::unexpected<Problems> failed(const cli::Failure& failure) {
    std::string text = failure.message.substr(0, failure.message.find_last_not_of('\n') + 1);
    std::string field;
    if (text.starts_with("--"))
        field = field_of_option(text.substr(0, std::min(text.find_first_of(": "), text.size())));
    return refused(std::move(field), std::move(text));
}

class Drawer {
public:
    Drawer(const cli::SheetQuestion& question, const cli::SheetWishes& wishes)
        : q_{question}, wishes_{wishes}, date_{question.dates.first} {}

    Reply<Drawings> draw() {
        const study::RoomStudy* room = q_.study_on(date_);
        const site::Location there =
            room != nullptr ? room->location() : site::in_season(q_.location, date_);
        const study::DayStrip& strip = q_.strip_on(date_);
        out_.document["date"] = site::iso_date(date_);
        if (wants(wishes_, "plan")) {
            const auto hours = plan_hours(q_, wishes_, strip);
            if (!hours) return failed(hours.error());
            draw_plan(there, room, strip, *hours);
        }
        if (wants(wishes_, "strip")) draw_strip(there, strip);
        return std::move(out_);
    }

private:
    [[nodiscard]] draw::DrawingFrame frame(const char* name) const {
        return {wishes_.width_mm, name, true, q_.units};
    }
    void draw_plan(const site::Location& there, const study::RoomStudy* room,
                   const study::DayStrip& strip, const std::vector<Instant>& hours) {
        const draw::PlanContent content{date_, hours, draw::covers_on_plan(strip),
                                        strip.planned ? &*strip.planned : nullptr};
        draw::PlanDrawing plan =
            draw::draw_plan(draw::with_key_lamp(there, strip), room, content, frame("plan"));
        out_.svg.emplace_back("plan", std::move(plan.svg));
        Json hours_json = Json::array();
        for (const Instant hour : hours)
            hours_json.push_back(site::iso_utc(hour));
        out_.document["plan"] = {
            {"width_mm", plan.width_mm},           {"height_mm", plan.height_mm},
            {"mm_per_m", plan.scale.mm_per_m},     {"left_mm", plan.scale.left_mm},
            {"top_mm", plan.scale.top_mm},         {"hours_utc", std::move(hours_json)},
            {"numbered", std::move(plan.numbered)}};
    }
    void draw_strip(const site::Location& there, const study::DayStrip& strip) {
        draw::StripDrawing drawing = draw::draw_strip(there, strip, frame("strip"));
        const draw::StripScale& s = drawing.scale;
        out_.svg.emplace_back("strip", std::move(drawing.svg));
        out_.document["strip"] = {{"width_mm", drawing.width_mm},
                                  {"height_mm", drawing.height_mm},
                                  {"left_mm", s.left_mm},
                                  {"mm_per_h", s.mm_per_h},
                                  {"top_mm", s.top_mm},
                                  {"bottom_mm", s.bottom_mm},
                                  {"from_utc", site::iso_utc(s.from)},
                                  {"to_utc", site::iso_utc(s.to)}};
    }

    const cli::SheetQuestion& q_;
    const cli::SheetWishes& wishes_;
    site::LocalDate date_;
    Drawings out_;
};

}  // namespace

Reply<Drawings> draw(const Request& request) {
    const auto wish = wish_of(request, {"plan", "strip"});
    if (!wish) return tl::unexpected{wish.error()};
    const auto question = cli::SheetQuestion::ask(wish->wishes);
    if (!question) return failed(question.error());
    if ((*question)->dates.is_range) return refused("to", "a drawing is of one date");
    auto drawn = Drawer{**question, wish->wishes}.draw();
    if (!drawn) return drawn;
    cli::SheetWishes more = wish->wishes;  // those that nobody lays a finger on
    std::erase_if(more.only,
                  [](const std::string& kind) { return kind == "plan" || kind == "strip"; });
    if (more.only.empty()) return drawn;
    auto files = draw_sheet(**question, more);
    if (!files) return failed(files.error());
    for (cli::SheetFile& file : *files)
        drawn->svg.emplace_back(file.name.substr(0, file.name.rfind('.')), std::move(file.content));
    return drawn;
}

Reply<std::vector<std::pair<std::string, std::string>>> papers(const Request& request) {
    const auto wish = wish_of(request, {request.ask == "calendar" ? "calendar" : "page"});
    if (!wish) return tl::unexpected{wish.error()};
    const auto camera = wish->exposure.read();
    if (!camera) return failed(camera.error());
    const auto question = cli::SheetQuestion::ask(wish->wishes);
    if (!question) return failed(question.error());
    auto files = sheet_papers(**question, wish->wishes, {*camera, {}});
    if (!files) return failed(files.error());
    std::vector<std::pair<std::string, std::string>> out;
    for (cli::SheetFile& file : *files)
        out.emplace_back(std::move(file.name), std::move(file.content));
    return out;
}

}  // namespace keyhour::pocket
