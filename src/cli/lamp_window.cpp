#include "lamp_window.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "keyhour/study/sun_in_room.hpp"
#include "words/names.hpp"

namespace keyhour::cli {

std::optional<Failure> hung_key_window(const char* option, const room::Room& room,
                                       std::size_t window) {
    const room::Window& w = room.windows[window];
    if (study::lets_sun_in(w)) return std::nullopt;
    return Failure{wrong_usage,
                   fmt::format("{} \"{}\" has cover = \"{}\" in the file: no key comes through it; "
                               "take that cover off, or name another window",
                               option, w.name, words::name(w.cover))};
}

std::optional<Failure> no_line_to_mark(const study::RoomStudy& study, std::size_t window,
                                       std::size_t mark) {
    if (study.scene().faces(window, mark)) return std::nullopt;
    const room::Room& room = study.room();
    std::string text = fmt::format("no straight line leads from window \"{}\" to mark \"{}\"",
                                   room.windows[window].name, room.marks[mark].name);
    std::vector<std::string> fit;
    for (std::size_t w = 0; w < room.windows.size(); ++w)
        if (study::lets_sun_in(room.windows[w]) && study.scene().faces(w, mark))
            fit.push_back("\"" + room.windows[w].name + "\"");
    if (!fit.empty()) text += fmt::format("; accepted: {}", fmt::join(fit, ", "));
    return Failure{wrong_usage, text};
}

std::optional<Failure> all_windows_hung(const room::Room& room) {
    if (std::ranges::any_of(room.windows, study::lets_sun_in)) return std::nullopt;
    return Failure{bad_data,
                   "every window of the room is hung with cloth: a lamp outside needs one with "
                   "cover = \"open\""};
}

}  // namespace keyhour::cli
