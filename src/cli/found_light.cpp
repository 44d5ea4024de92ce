#include "found_light.hpp"

#include "read/found_light_file.hpp"
#include "words/shown.hpp"

namespace keyhour::cli {

std::optional<study::FoundInRoom> found_in(const std::string& path, Names names,
                                           const site::Location& location) {
    if (path.empty() || !location.room) return std::nullopt;
    auto found = read::read_found_light(path);
    // What is wrong with the file has been told where its location was read.
    if (!found || found->empty()) return std::nullopt;
    if (names == Names::shown) {
        for (site::Forge& forge : found->forges)
            forge.name = words::shown(forge.name);
        for (site::MeterReading& reading : found->readings)
            reading.where = words::shown(reading.where);
    }
    return study::FoundInRoom{location, *found};
}

}  // namespace keyhour::cli
