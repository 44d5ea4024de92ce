#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "keyhour/site/elevation_grid.hpp"
#include "reader.hpp"

namespace {

constexpr std::uintmax_t tile_bytes = 2 * 1201 * 1201;
constexpr std::size_t name_length = 7;

/// Whatever a name is made of, it is that of a file in the folder.
std::string file_name(std::string_view bytes) {
    std::string name{bytes.substr(0, name_length)};
    std::replace_if(
        name.begin(), name.end(), [](char c) { return c == '/' || c == '\0' || c == '.'; }, '_');
    return (name.empty() ? "N52W002" : name) + ".hgt";
}

void read_tile(const std::filesystem::path& path) {
    const auto grid = keyhour::site::open_srtm_tile(path.string());
    if (!grid) return;
    (void)(*grid)->highest_m();
    const auto shape = (*grid)->shape();
    // The bytes lie at the tile's first posts, in its north-west.
    for (const double step : {0.0, 0.5, 1.0, 2.5, 40.5})
        (void)(*grid)->elevation_m(shape.north_deg, shape.west_deg + step * shape.column_step_deg);
    (void)(*grid)->elevation_m(shape.north_deg - 0.5, shape.west_deg + 0.5);
}

}  // namespace

/// The first byte says what the others are: a tile's name, the first posts of a whole tile, or a
/// file.
KEYHOUR_FUZZ_READER(text) {
    static const std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("keyhour_fuzz_" + std::to_string(getpid()));
    std::filesystem::create_directories(folder);
    const char what = text.empty() ? '\0' : text.front();
    const std::string_view bytes = text.substr(text.empty() ? 0 : 1);
    const auto path = folder / (what == 'n' ? file_name(bytes) : "N52W002.hgt");
    std::ofstream{path, std::ios::binary}
        << (what == 'n' ? bytes.substr(std::min(bytes.size(), name_length)) : bytes);
    if (what == 'n' || what == 'w') std::filesystem::resize_file(path, tile_bytes);
    read_tile(path);
    std::filesystem::remove_all(folder);
}
