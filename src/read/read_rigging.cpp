#include "read_rigging.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "keyhour/site/dates.hpp"
#include "minutes_by_crew.hpp"

namespace keyhour::read {
namespace {

constexpr LengthRule overlap_rule{0, 2, false, 0.6};

}  // namespace

site::Rigging read_rigging_tables(Fields& root, Findings& findings) {
    site::Rigging rigging;
    if (const auto* table = root.table("rigging", Need::optional, "crew = 2, call = \"08:00\"")) {
        Fields fields{*table, "[rigging]", findings};
        rigging.crew = fields.whole("crew", Need::optional, 1, largest_crew);
        if (const auto text = fields.text("call", Need::optional, "08:00")) {
            const auto time = site::read_time_of_day(*text);
            if (time)
                rigging.call = *time;
            else
                fields.complain("call", time.error());
        }
        rigging.overlap_m =
            fields.length("overlap_m", Need::optional, overlap_rule).value_or(rigging.overlap_m);
        fields.refuse_unknown();
    }
    std::vector<std::string> names;
    for (const toml::table* table : root.tables("task")) {
        Fields fields{*table, "[[task]]", findings};
        site::Task task;
        task.name = fields.name(Need::required).value_or("");
        if (!task.name.empty() && std::ranges::find(names, task.name) != names.end())
            fields.complain("name", fmt::format("a second task is called \"{}\"", task.name),
                            "each needs its own name");
        names.push_back(task.name);
        task.by_crew = read_minutes_by_crew(fields, "minutes", Need::required, findings);
        fields.refuse_unknown();
        rigging.tasks.push_back(std::move(task));
    }
    return rigging;
}

}  // namespace keyhour::read
