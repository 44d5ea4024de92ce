// Asks the installed library what "keyhour key room.toml" asks: when is there a clean key? With
// --lock what "keyhour lock room.toml --start 05:00 --minutes 360" asks: what must hang by when?
#include <cstring>
#include <iostream>
#include <keyhour/ask/key.hpp>
#include <keyhour/ask/lock.hpp>
#include <keyhour/site/dates.hpp>
#include <keyhour/version.hpp>

using namespace keyhour;

namespace {

/// The room of room.toml, as the crew measured it.
room::Room bindery() {
    room::Room room;
    room.floor = {{0, 0}, {6, 0}, {6, 5}, {0, 5}};
    room.walls = {"lane", "east", "back", "west"};
    room.height_m = 3;
    room.bearing.wall = 0;
    room.bearing.faces = Angle::degrees(170);
    room.bearing.within = Angle::degrees(2);
    room::Window window;
    window.name = "bench window";
    window.left_m = 2;
    window.width_m = 1.2;
    window.sill_m = 0.9;
    window.height_m = 1.5;
    window.reveal_m = 0.25;
    room.windows = {window};
    room::Mark mark;
    mark.name = "sewing frame";
    mark.at = {2.4, 1.9};
    mark.height_m = 1.1;
    room.marks = {mark};
    room::Camera camera;
    camera.name = "A";
    camera.at = {0.8, 0.7};
    camera.height_m = 1.3;
    room.cameras = {camera};
    return room;
}

std::string utc(Instant at) {
    return site::iso_utc(at, 3);
}

void tell_covers(const ask::RoomQuestion& question) {
    const Instant from = question.start_of(question.dates.first) + Seconds{5 * 3600};
    const auto answer = ask::lock(question, {{from, from + Seconds{6 * 3600}, false, false}, {}});
    for (const study::CoverToHang& cover : answer.lock->covers)
        std::cout << utc(cover.sure_by) << '\n';
}

void tell_keys(const ask::RoomQuestion& question) {
    for (const study::KeyInterval& key : ask::key(question, {}).intervals)
        if (key.span) std::cout << utc(key.span->from) << ' ' << utc(key.span->to) << '\n';
}

}  // namespace

int main(int argc, char** argv) {
    if (argc > 1 && std::strcmp(argv[1], "--version") == 0) {
        std::cout << version() << '\n';
        return 0;
    }
    const auto zone = site::Zone::named("GMT0BST,M3.5.0/1,M10.5.0");
    const auto date = site::read_date(argc > 1 ? argv[1] : "2026-02-17");
    if (!zone || !date) return 2;
    site::Location location;
    location.site.name = "Bindery";
    location.site.observer = {Angle::degrees(52.5), Angle::degrees(-1.5), 90};
    location.site.zone = *zone;
    location.room = bindery();
    const auto question = ask::RoomQuestion::prepare(location, {*date, *date});
    if (!question) return 1;
    if (argc > 2 && std::strcmp(argv[2], "--lock") == 0)
        tell_covers(*question);
    else
        tell_keys(*question);
    return 0;
}
