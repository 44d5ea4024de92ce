#include "tell/light_log_line.hpp"

#include <fmt/format.h>

#include "words/shot_names.hpp"

namespace keyhour::tell {
namespace {

/// A basic string of TOML (toml.io, 1.0.0): quotes, backslashes and control characters escaped.
std::string in_toml(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\')
            out += fmt::format("\\{}", c);
        else if (byte < 0x20 || byte == 0x7f)
            out += fmt::format("\\u{:04x}", byte);
        else
            out += c;
    }
    return out + '"';
}

/// "9.5", "12", without zeros that say nothing.
std::string in_toml(double value, int decimals) {
    std::string out = fmt::format("{:.{}f}", value, decimals);
    if (decimals == 0) return out;
    while (out.ends_with('0'))
        out.pop_back();
    if (out.ends_with('.')) out.pop_back();
    return out == "-0" ? "0" : out;
}

class LogLine {
public:
    void add(const char* key, const std::string& value) {
        text_ += fmt::format("{}{} = {}", text_.empty() ? "" : ", ", key, value);
    }
    void text(const char* key, const std::string& value) {
        if (!value.empty()) add(key, in_toml(value));
    }
    void number(const char* key, const std::optional<double>& value, int decimals) {
        if (value) add(key, in_toml(*value, decimals));
    }
    void raw(const std::string& pair) {
        if (!pair.empty()) text_ += ", " + pair;
    }
    [[nodiscard]] std::string line() const { return "{ " + text_ + " }"; }

private:
    std::string text_;
};

}  // namespace

std::string light_log_line(const study::LoggedShot& shot, const std::string& level) {
    LogLine line;
    line.add("at", shot.at);
    line.text("shot", shot.name);
    line.text("place", shot.place);
    line.text("mark", shot.mark);
    line.text("camera", shot.camera);
    line.text("key", words::name(shot.key));
    line.text("lamp", shot.lamp);
    if (shot.lamp_at)
        line.add("lamp_at",
                 fmt::format("[{}, {}]", in_toml(shot.lamp_at->x, 3), in_toml(shot.lamp_at->y, 3)));
    line.number("lamp_height_m", shot.lamp_height_m, 3);
    line.text("window", shot.window);
    line.number("azimuth_deg", shot.azimuth_deg, 2);
    line.number("altitude_deg", shot.altitude_deg, 2);
    line.number("computed_lx", shot.computed_lx, 0);
    line.number("computed_kelvin", shot.computed_kelvin, 0);
    line.raw(level);
    line.number("stop", shot.t_number, 2);
    if (!shot.cloth.empty()) {
        std::string all;
        for (const std::string& one : shot.cloth)
            all += (all.empty() ? "" : ", ") + in_toml(one);
        line.add("cloth", "[" + all + "]");
    }
    line.text("note", shot.note);
    line.text("file", shot.file_digest);
    return line.line();
}

}  // namespace keyhour::tell
