#include "light_log.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "clock_moment.hpp"
#include "fields.hpp"
#include "file/file_contents.hpp"
#include "keyhour/site/quoted.hpp"
#include "metered_level.hpp"
#include "parse_toml.hpp"
#include "source_text.hpp"
#include "words/blanks.hpp"
#include "words/shot_names.hpp"

namespace keyhour::read {
namespace {

constexpr const char* a_log = "accepted: a light log, as \"keyhour log\" begins one";
constexpr const char* a_line =
    "accepted: one shot a line, as { at = \"2026-02-17 13:42\", place = \"tallow-lane.toml\", mark "
    "= "
    "\"type case\" }";

/// The beginning of the head, and nothing else: a write that ended there.
bool is_cut_head(std::string_view text) {
    return text.size() < light_log_head.size() && light_log_head.starts_with(text);
}

bool has_head(std::string_view text) {
    return words::stripped(text.substr(0, text.find('\n'))) == light_log_head;
}

/// One line of the log. It is read as the value of a key that stands before it.
class ShotLine {
public:
    static constexpr std::string_view before = "s=";

    ShotLine(std::string_view line, int number, const std::string& name)
        : line_{line}, number_{number}, source_{fmt::format("{}{}", before, line), name} {}

    tl::expected<study::LoggedShot, std::vector<Problem>> read() {
        if (is_cut_off()) return tl::unexpected{std::vector{cut_off()}};
        if (auto problem = source_.not_utf8()) return tl::unexpected{std::vector{in_log(*problem)}};
        Findings findings{source_};
        const toml::table root = parse_toml(source_, findings);
        const toml::table* table = root["s"].as_table();
        if (!table) return tl::unexpected{std::vector{not_read(findings)}};
        study::LoggedShot shot = shot_of(*table, findings);
        std::vector<Problem> problems = findings.sorted();
        for (Problem& problem : problems)
            problem = in_log(std::move(problem));
        if (!problems.empty()) return tl::unexpected{std::move(problems)};
        shot.line = number_;
        return shot;
    }

private:
    /// Where it stands in the log, and as it stands there.
    Problem in_log(Problem problem) const {
        problem.column = std::max(1, problem.column - static_cast<int>(before.size()));
        problem.line = number_;
        problem.source = line_;
        return problem;
    }

    bool is_cut_off() const {
        return words::stripped(line_).starts_with('{') && line_.find('}') == std::string_view::npos;
    }

    Problem cut_off() const {
        const auto characters = std::ranges::count_if(
            line_, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; });
        return in_log({source_.name(),
                       0,
                       static_cast<int>(characters + std::ssize(before)),
                       "the line ends without its closing brace: it was cut off",
                       "what stands there was kept; write the shot again on a new line",
                       {}});
    }

    Problem not_read(const Findings& findings) const {
        std::vector<Problem> problems = findings.sorted();
        if (!problems.empty() && words::stripped(line_).starts_with('{')) {
            Problem& first = problems.front();
            if (first.found.find("expected ':'") != std::string::npos)
                first.accepted = "a time without seconds stands in quotes: \"2026-02-17 13:42\"";
            return in_log(std::move(first));
        }
        return in_log({source_.name(), 0, 0, "the line holds no shot", a_line, {}});
    }

    study::LoggedShot shot_of(const toml::table& table, Findings& findings) {
        Fields f{table, "the shot", findings};
        study::LoggedShot shot;
        read_when(f, shot);
        shot.name = f.text("shot", Need::optional, "wide 1").value_or("");
        shot.place = f.text("place", Need::required, "tallow-lane.toml").value_or("");
        shot.mark = f.text("mark", Need::required, "type case").value_or("");
        shot.camera = f.text("camera", Need::optional, "A").value_or("");
        shot.window = f.text("window", Need::optional, "case window").value_or("");
        const std::vector<std::string> keys{words::shot_key_names.begin(),
                                            words::shot_key_names.end()};
        shot.key = static_cast<study::ShotKey>(f.choice("key", Need::optional, keys).value_or(0));
        read_lamp(f, shot);
        read_light(f, shot);
        shot.cloth = f.names("cloth", Need::optional).value_or(std::vector<std::string>{});
        shot.note = f.text("note", Need::optional, "wind").value_or("");
        shot.file_digest = f.text("file", Need::optional, "0f3a5c7e9b1d2f40").value_or("");
        f.refuse_unknown();
        return shot;
    }

    static void read_when(Fields& f, study::LoggedShot& shot) {
        const auto at = f.moment("at", Need::required);
        if (!at) return;
        shot.at = *at;
        // On a clock without changes: what is no time at all is told by its line.
        if (const auto time = read_moment(*at, site::Zone{}); !time) f.complain("at", time.error());
    }

    static void read_lamp(Fields& f, study::LoggedShot& shot) {
        shot.lamp = f.text("lamp", Need::optional, "key lamp").value_or("");
        if (const auto at = f.point("lamp_at", Need::optional)) shot.lamp_at = at->at;
        constexpr LengthRule height{.least_m = 0, .most_m = 200};
        shot.lamp_height_m = f.length("lamp_height_m", Need::optional, height);
    }

    static void read_light(Fields& f, study::LoggedShot& shot) {
        constexpr double most_lx = 1e6, most_kelvin = 100000;
        shot.azimuth_deg = f.number("azimuth_deg", Need::optional, {0, 360, " degrees"});
        shot.altitude_deg = f.number("altitude_deg", Need::optional, {-90, 90, " degrees"});
        shot.computed_lx = f.number("computed_lx", Need::optional, {0, most_lx, " lx"});
        shot.computed_kelvin =
            f.number("computed_kelvin", Need::optional, {500, most_kelvin, " K"});
        if (f.has("lux") || f.has("ev")) shot.metered_lx = read_metered_level(f);
        shot.t_number = f.number("stop", Need::optional, {0.5, 128, ", a T number"});
    }

    std::string_view line_;
    int number_;
    SourceText source_;
};

}  // namespace

tl::expected<LightLog, Problem> read_light_log_text(std::string_view text,
                                                    const std::string& name) {
    LightLog log;
    if (text.starts_with("\xef\xbb\xbf")) text.remove_prefix(3);
    if (is_cut_head(text)) return log;
    if (!has_head(text))
        return tl::unexpected{Problem{
            name, 1, 1,
            fmt::format("this is no light log: its first line is not \"{}\"", light_log_head),
            a_log, std::string{text.substr(0, std::min<std::size_t>(text.find('\n'), 80))}}};
    for (int number = 1; !text.empty(); ++number) {
        const std::size_t end = text.find('\n');
        std::string_view line = text.substr(0, end);
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
        if (line.ends_with('\r')) line.remove_suffix(1);
        const std::string_view what = words::stripped(line);
        if (what.empty() || what.starts_with('#')) continue;
        auto shot = ShotLine{line, number, name}.read();
        if (shot)
            log.shots.push_back(*std::move(shot));
        else
            log.problems.insert(log.problems.end(), shot.error().begin(), shot.error().end());
    }
    return log;
}

tl::expected<LightLog, Problem> read_light_log(const std::string& path) {
    const auto text = file::file_contents(path, largest_log_bytes, "a light log", a_log,
                                          file::Taken::what_was_named);
    if (!text) return tl::unexpected{text.error()};
    return read_light_log_text(*text, path);
}

tl::expected<std::string, std::string> next_log_line(std::string_view before,
                                                     const std::string& path,
                                                     std::string_view line) {
    std::string out;
    if (is_cut_head(before))
        out = fmt::format("{}\n", light_log_head.substr(before.size()));
    else if (!has_head(before.starts_with("\xef\xbb\xbf") ? before.substr(3) : before))
        return tl::unexpected{
            fmt::format("{} is no light log: its first line is not \"{}\"; nothing was added to it",
                        site::quoted(path), light_log_head)};
    else if (!before.ends_with('\n'))
        out = "\n";
    return fmt::format("{}{}\n", out, line);
}

}  // namespace keyhour::read
