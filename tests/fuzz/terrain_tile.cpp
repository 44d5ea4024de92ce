#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "keyhour/site/elevation_grid.hpp"
#include "reader.hpp"

KEYHOUR_FUZZ_READER(text) {
    static const std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("keyhour_fuzz_" + std::to_string(getpid()));
    std::filesystem::create_directories(folder);
    const std::string path = (folder / "N52W002.hgt").string();
    std::ofstream{path, std::ios::binary} << text;
    if (const auto grid = keyhour::site::open_srtm_tile(path)) {
        (void)(*grid)->highest_m();
        (void)(*grid)->elevation_m(52.5, -1.5);
    }
    std::filesystem::remove_all(folder);
}
