#include "observation_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "clock_error.hpp"
#include "clock_moment.hpp"
#include "compass_reading.hpp"
#include "file/file_contents.hpp"
#include "flag_source.hpp"
#include "keyhour/site/dates.hpp"
#include "keyhour/site/position.hpp"
#include "parse_toml.hpp"

namespace keyhour::read {
namespace {

using namespace study;

constexpr LengthRule point_within_rule{0, 1, true, 1};
constexpr LengthRule map_within_rule{0, 1000, true, 1000};
constexpr LengthRule along_wall_rule{0, 1000, false, 40};
constexpr LengthRule above_floor_rule{0, 100, false, 8};
constexpr NumberRule doubt_rule{0, 45, " degrees"};
constexpr NumberRule faces_rule{0, 360, " degrees"};
constexpr NumberRule clock_rule{0, 3600, " seconds"};
constexpr NumberRule minutes_rule{0, 60, " minutes"};
constexpr double to_the_second_s = 1, to_the_minute_s = 30;

/// Reads one [[observation]].
class ObservationReader {
public:
    ObservationReader(Fields& fields, const site::Location& location, ObservationFile& out)
        : fields_{fields}, location_{location}, out_{out} {
        walls_ = {"wall", location.room->walls, true};
        windows_.kind = "window";
        for (const room::Window& w : location.room->windows)
            windows_.words.push_back(w.name);
    }

    void read(std::size_t number) {
        const auto name = fields_.has("name") ? fields_.name(Need::optional) : std::nullopt;
        const auto kind = fields_.choice("kind", Need::required, observation_kinds());
        if (!kind) return;
        Observation observation;
        observation.name =
            name.value_or(fmt::format("{} {}", observation_kinds()[*kind], number + 1));
        switch (*kind) {
            case 0:
                observation.what = compass();
                break;
            case 1:
                observation.what = map_line();
                break;
            case 2:
                observation.what = graze();
                break;
            case 3:
                observation.what = shadow();
                break;
            case 4:
                observation.what = corner();
                break;
            default:
                observation.what = other_wall();
                break;
        }
        fields_.refuse_unknown();
        out_.observations.push_back(std::move(observation));
    }

private:
    using What = decltype(Observation::what);

    std::size_t wall() { return fields_.reference("wall", Need::required, walls_).value_or(0); }

    double metres(const char* key, LengthRule rule, double usual) {
        return fields_.length(key, Need::optional, rule).value_or(usual);
    }

    Angle doubt(const char* key, Angle usual) {
        const auto value = fields_.number(key, Need::optional, doubt_rule);
        if (value && *value <= 0)
            fields_.complain(key, fields_.shown(key) + " is no doubt", "accepted: more than 0");
        return value ? Angle::degrees(*value) : usual;
    }

    /// A bearing with its north: the needle where it is magnetic.
    struct Bearing {
        Angle faces;
        std::optional<Needle> needle;
        Angle within;
    };
    Bearing bearing() {
        Bearing b;
        b.faces = Angle::degrees(fields_.number("faces", Need::required, faces_rule).value_or(0));
        const auto north = fields_.choice("north", Need::required, {"true", "magnetic"});
        const bool magnetic = north == std::size_t{1};
        b.within = doubt("within_deg", magnetic ? usual_compass_within : usual_true_within);
        const auto day = fields_.date("measured", Need::optional);
        if (!magnetic || (fields_.has("measured") && !day)) return b;
        const auto reading = compass_reading(location_.site.observer, day, fields_.label().c_str());
        if (!reading) {
            fields_.complain(day ? "measured" : "north", reading.error(), "");
            return b;
        }
        b.needle = Needle{reading->declination, reading->uncertainty};
        if (reading->question) out_.questions.push_back(*reading->question);
        return b;
    }

    ClockTime time() {
        const auto text = fields_.moment("at", Need::required);
        const auto within = fields_.number("time_within_s", Need::optional, clock_rule);
        if (!text) return {};
        const auto read = read_moment(*text, location_.site.zone);
        if (!read) {
            fields_.complain("at", read.error());
            return {};
        }
        return {read->at, within.value_or(read->has_seconds ? to_the_second_s : to_the_minute_s)};
    }

    site::Coordinates position(const char* key) {
        const auto text = fields_.text(key, Need::required, "52.95361N 1.15059W");
        if (!text) return {};
        const auto place = site::read_position(*text);
        if (place) return *place;
        fields_.complain(key, place.error());
        return {};
    }

    What compass() {
        const std::size_t w = wall();
        const Bearing b = bearing();
        return WallBearing{w, b.faces, b.needle, b.within};
    }

    What map_line() {
        MapLine m;
        m.wall = wall();
        m.left = position("left");
        m.right = position("right");
        const auto seen =
            fields_.choice("seen_from", Need::required, {"inside", "outside", "unknown"});
        if (seen == std::size_t{1}) std::swap(m.left, m.right);
        m.sides_known = seen != std::size_t{2};
        m.within_m = metres("within_m", map_within_rule, usual_map_within_m);
        return m;
    }

    What graze() {
        Graze g;
        g.wall = wall();
        const auto sun = fields_.choice("sun", Need::required, {"begins", "ends", "unknown"});
        g.sun = sun == std::size_t{0}   ? Graze::Sun::begins
                : sun == std::size_t{1} ? Graze::Sun::ends
                                        : Graze::Sun::unknown;
        g.time = time();
        g.time.within_s = usual_graze_within_s;
        if (const auto within = fields_.number("within_min", Need::optional, minutes_rule))
            g.time.within_s = 60 * *within;
        return g;
    }

    What shadow() {
        if (fields_.has("angle_deg")) return shadow_angle();
        ShadowLine s;
        const auto from = fields_.point("from", Need::required);
        const auto to = fields_.point("to", Need::required);
        if (from) s.from = from->at;
        if (to) s.to = to->at;
        s.from_edge =
            fields_.choice("order", Need::optional, {"from the edge", "unknown"}) != std::size_t{1};
        s.within_m = metres("within_m", point_within_rule, usual_shadow_within_m);
        s.time = time();
        return s;
    }

    What shadow_angle() {
        ShadowAngle s;
        s.wall = wall();
        s.angle = Angle::degrees(
            fields_.number("angle_deg", Need::required, {0, 180, " degrees"}).value_or(0));
        s.from_right = fields_.choice("hand", Need::required, {"right", "left"}) != std::size_t{1};
        s.within = doubt("within_deg", usual_angle_within);
        s.time = time();
        return s;
    }

    What corner() {
        PatchCorner c;
        c.window = fields_.reference("window", Need::required, windows_).value_or(0);
        const auto which = fields_.choice("corner", Need::required,
                                          {"head left", "head right", "sill left", "sill right"});
        c.by_head = which < std::size_t{2};
        c.by_left = which && *which % 2 == 0;
        if (fields_.has("wall")) {
            c.on_wall = wall();
            const auto along = fields_.length("from_left_m", Need::required, along_wall_rule);
            const auto up = fields_.length("above_floor_m", Need::required, above_floor_rule);
            const room::WallFrame frame = room::wall_frame(location_.room->floor, *c.on_wall);
            const room::Point2 at = frame.left_corner + along.value_or(0) * frame.u;
            c.at = {at.x, at.y, up.value_or(0)};
            if (along && *along > frame.width_m)
                fields_.complain("from_left_m",
                                 fields_.shown("from_left_m") + " lies beyond that wall",
                                 fmt::format("accepted: 0 to {:.4g} m", frame.width_m));
        } else if (const auto at = fields_.point("floor", Need::required)) {
            c.at = {at->at.x, at->at.y, 0};
        }
        c.within_m = metres("within_m", point_within_rule, usual_corner_within_m);
        c.time = time();
        return c;
    }

    What other_wall() {
        OtherWall o;
        o.wall = wall();
        o.other = fields_.text("other", Need::required, "church wall").value_or("");
        const Bearing b = bearing();
        o.faces = b.faces;
        o.needle = b.needle;
        o.within = b.within;
        o.turn = Angle::degrees(
            fields_.number("turn_deg", Need::required, {0, 180, " degrees"}).value_or(0));
        const auto sense =
            fields_.choice("turn", Need::required, {"clockwise", "anticlockwise", "unknown"});
        if (sense == std::size_t{1}) o.turn = -o.turn;
        o.turn_known = sense != std::size_t{2};
        o.turn_within = doubt("turn_within_deg", usual_angle_within);
        return o;
    }

    Fields& fields_;
    const site::Location& location_;
    ObservationFile& out_;
    KnownNames walls_, windows_;
};

/// The names that a flag of a kind takes: what its reader asks for.
std::vector<std::string> names_of(const std::string& kind) {
    if (kind == "compass") return {"wall", "faces", "north", "within_deg", "measured", "name"};
    if (kind == "map") return {"wall", "left", "right", "seen_from", "within_m", "name"};
    if (kind == "graze") return {"wall", "sun", "at", "within_min", "name"};
    if (kind == "shadow")
        return {"at",        "from", "to",         "order",         "within_m", "wall",
                "angle_deg", "hand", "within_deg", "time_within_s", "name"};
    if (kind == "corner")
        return {"window",      "corner",        "at",       "floor",         "wall",
                "from_left_m", "above_floor_m", "within_m", "time_within_s", "name"};
    return {"wall",     "other",    "faces", "north",           "within_deg",
            "measured", "turn_deg", "turn",  "turn_within_deg", "name"};
}

Read<ObservationFile> finished(const Findings& findings, ObservationFile out) {
    std::vector<Problem> problems = findings.sorted();
    if (!problems.empty()) return tl::unexpected{std::move(problems)};
    return out;
}

}  // namespace

const std::vector<std::string>& observation_kinds() {
    static const std::vector<std::string> kinds{"compass", "map",    "graze",
                                                "shadow",  "corner", "other wall"};
    return kinds;
}

Read<ObservationFile> read_observations_text(std::string_view text, const std::string& name,
                                             const site::Location& location) {
    SourceText source{text, name};
    if (auto problem = source.not_utf8()) return tl::unexpected{std::vector{*std::move(problem)}};
    Findings findings{source, std::filesystem::path{name}.parent_path().string()};
    const toml::table table = parse_toml(source, findings);
    Fields root{table, "", findings};
    ObservationFile out;
    (void)root.whole("format", Need::required, 1, 1);
    out.clock_within_s = root.number("clock_within_s", Need::optional, clock_rule);
    if (const auto clock = root.text("clock", Need::optional, "1 h fast")) {
        const auto error = read_clock_error(*clock);
        if (error)
            out.clock_fast_s = *error;
        else
            root.complain("clock", error.error());
    }
    const auto tables = root.tables("observation");
    if (tables.empty() && findings.count() == 0)
        root.complain_missing("observation", "there is no observation",
                              "each begins with [[observation]] and a kind");
    for (std::size_t i = 0; i < tables.size(); ++i) {
        Fields fields{*tables[i], fmt::format("[[observation]] {}", i + 1), findings};
        const std::size_t before = out.observations.size();
        ObservationReader{fields, location, out}.read(i);
        if (out.observations.size() > before)
            out.observations.back().place = fmt::format("{}:{}", name, fields.place().line);
    }
    root.refuse_unknown();
    return finished(findings, std::move(out));
}

Read<ObservationFile> read_observations(const std::string& path, const site::Location& location) {
    const auto text = file::file_contents(path, largest_location_bytes, "a file of observations",
                                          "accepted: TOML with a list of [[observation]]",
                                          file::Taken::what_was_named);
    if (!text) return tl::unexpected{std::vector{text.error()}};
    return read_observations_text(*text, path, location);
}

Read<ObservationFile> read_observation_flag(std::string_view text, const std::string& kind,
                                            const std::string& flag,
                                            const site::Location& location) {
    FlagSource source{flag};
    if (auto problem = source.parse(text, names_of(kind)))
        return tl::unexpected{std::vector{*std::move(problem)}};
    source.tree().insert_or_assign("kind", kind);
    Findings findings{source};
    Fields fields{source.tree(), flag, findings};
    ObservationFile out;
    ObservationReader{fields, location, out}.read(0);
    return finished(findings, std::move(out));
}

}  // namespace keyhour::read
