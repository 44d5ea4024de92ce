#include "tell/meter_lines.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "instants.hpp"
#include "keyhour/site/dates.hpp"
#include "light_documents.hpp"
#include "words/clock.hpp"
#include "words/levels.hpp"

namespace keyhour::tell {
namespace {

using Of = study::MeterVerdict::Of;

const char* figure(Of of) {
    switch (of) {
        case Of::outside:
            return "tells that day's air";
        case Of::glass:
            return "corrects the glass";
        case Of::fill:
            return "corrects the fill";
        case Of::nothing:
            break;
    }
    return "corrects nothing";
}

std::string when(const site::MeterReading& r, const site::Zone& zone) {
    return words::short_date(site::local_date(r.at, zone)) + ' ' + site::whole_minutes(r.at, zone);
}

std::string place(const site::MeterReading& r) {
    return r.inside_at ? "at " + r.where : r.where;
}

std::string against(const study::MeterVerdict& v) {
    if (v.expected_lx.likely <= 0) return "where no window's light was expected";
    return fmt::format("{:.1f} stops {} the {} expected", std::abs(v.stops),
                       v.stops >= 0 ? "over" : "under", words::level(v.expected_lx));
}

}  // namespace

std::vector<std::string> meter_lines(const study::MeterCorrection& c, const site::Zone& zone) {
    if (c.verdicts.empty()) return {};
    std::string head = "the recce's meter: ";
    if (!c.corrects()) head += "nothing corrected";
    if (c.glass != 1) head += fmt::format("glass passes {:.2f} of what the file's would", c.glass);
    if (c.fill != 1)
        head += fmt::format("{}the room gives back {:.1f} times what was reckoned",
                            c.glass != 1 ? "; " : "", c.fill);
    std::vector<std::string> lines{head};
    for (const study::MeterVerdict& v : c.verdicts)
        lines.push_back(fmt::format("{} {}: {}, {}; {}", when(v.reading, zone), place(v.reading),
                                    words::level(v.reading.lx), against(v), figure(v.of)));
    return lines;
}

std::vector<std::string> meter_questions(const study::MeterCorrection& correction,
                                         const site::Zone& zone) {
    std::vector<std::string> out;
    for (const study::MeterVerdict& v : correction.verdicts)
        if (v.of == Of::nothing)
            out.push_back(fmt::format(
                "THE METER DISAGREES WITH ANY AIR: {} {} on {} is {} ({}); wrong time, unit, sky "
                "or bearing? It corrects nothing",
                words::level(v.reading.lx), place(v.reading), when(v.reading, zone), against(v),
                words::spread(v.expected_lx)));
    return out;
}

Json json_of(const study::MeterCorrection& c) {
    if (c.verdicts.empty()) return nullptr;
    Json readings = Json::array();
    for (const study::MeterVerdict& v : c.verdicts) {
        static const char* const names[] = {"air", "glass", "fill", "nothing"};
        readings.push_back(
            {{"where", v.reading.where},
             {"utc", site::iso_utc(v.reading.at, 0)},
             {"level_lx", rounded(v.reading.lx, 2)},
             {"expected_lx", json_of(v.expected_lx, 2)},
             {"stops_over", std::isfinite(v.stops) ? Json(rounded(v.stops, 2)) : Json()},
             {"corrects", names[static_cast<std::size_t>(v.of)]},
             {"factor", rounded(v.factor, 3)}});
    }
    return {{"glass", rounded(c.glass, 3)}, {"fill", rounded(c.fill, 3)}, {"readings", readings}};
}

}  // namespace keyhour::tell
