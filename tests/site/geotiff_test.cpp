// GeoTIFF, where the program is built with GDAL; else that it says so.
#include <catch2/catch.hpp>
#include <cstdint>
#include <cstring>
#include <string>
#include <vector>

#include "keyhour/site/terrain.hpp"
#include "support/scratch_folder.hpp"

using namespace keyhour;
using namespace keyhour::site;
using keyhour::test::ScratchFolder;

namespace {

/// A GeoTIFF as OGC 19-008 has it, uncompressed, 16 bits a cell, little-endian.
class TiffWriter {
public:
    void field(std::uint16_t tag, std::uint16_t kind, std::uint32_t count,
               const std::string& value) {
        fields_.push_back({tag, kind, count, value});
    }
    template <class T>
    static std::string bytes(const std::vector<T>& values) {
        std::string out(values.size() * sizeof(T), '\0');
        std::memcpy(out.data(), values.data(), out.size());
        return out;
    }
    template <class T>
    static std::string bytes(T value) {
        return bytes(std::vector<T>{value});
    }
    /// Fields in ascending order of their tags; 273 is filled in here.
    [[nodiscard]] std::string file(const std::string& cells) const {
        const std::size_t directory = 8, entries = directory + 2 + 12 * fields_.size() + 4;
        std::string tail;
        for (const Field& f : fields_)
            if (f.value.size() > 4) tail += f.value;
        const auto cells_at = static_cast<std::uint32_t>(entries + tail.size());
        std::string out = std::string{"II*\0", 4} + bytes(static_cast<std::uint32_t>(directory)) +
                          bytes(static_cast<std::uint16_t>(fields_.size()));
        auto next = static_cast<std::uint32_t>(entries);
        for (const Field& f : fields_) {
            out += bytes(f.tag) + bytes(f.kind) + bytes(f.count);
            std::string value = f.tag == 273 ? bytes(cells_at) : f.value;
            if (value.size() > 4) {
                value = bytes(next);
                next += static_cast<std::uint32_t>(f.value.size());
            }
            value.resize(4, '\0');
            out += value;
        }
        return out + bytes(std::uint32_t{0}) + tail + cells;
    }

private:
    struct Field {
        std::uint16_t tag, kind;
        std::uint32_t count;
        std::string value;
    };
    std::vector<Field> fields_;
};

/// 200 by 200 cells of 0.001 degree from 45.2 N 7.0 E: a plain at 300 m, a wall of 800 m along one
/// column, one void.
std::string alp() {
    constexpr std::uint16_t side = 200, shorts = 3, longs = 4, text = 2, doubles = 12;
    TiffWriter tiff;
    const auto number = [&](std::uint16_t tag, std::uint16_t value) {
        tiff.field(tag, shorts, 1, TiffWriter::bytes(value));
    };
    number(256, side);
    number(257, side);
    number(258, 16);
    number(259, 1);
    number(262, 1);
    tiff.field(273, longs, 1, std::string(4, '\0'));
    number(277, 1);
    number(278, side);
    tiff.field(279, longs, 1, TiffWriter::bytes(std::uint32_t{2U * side * side}));
    number(339, 2);
    tiff.field(33550, doubles, 3, TiffWriter::bytes(std::vector{0.001, 0.001, 0.0}));
    tiff.field(33922, doubles, 6, TiffWriter::bytes(std::vector{0.0, 0.0, 0.0, 7.0, 45.2, 0.0}));
    tiff.field(34735, shorts, 16,
               TiffWriter::bytes(std::vector<std::uint16_t>{1, 1, 0, 3, 1024, 0, 1, 2, 1025, 0, 1,
                                                            1, 2048, 0, 1, 4326}));
    tiff.field(42113, text, 6, std::string{"-9999\0", 6});
    std::vector<std::int16_t> cells(std::size_t{side} * side, 300);
    for (std::size_t row = 0; row < side; ++row)
        cells[row * side + 150] = 800;
    cells[0] = -9999;
    return tiff.file(TiffWriter::bytes(cells));
}

}  // namespace

TEST_CASE("a GeoTIFF gives a skyline, or the program says that it cannot read it", "[site]") {
    const ScratchFolder folder;
    const std::string path = folder.write("alp.tif", alp());
    const Coordinates at{Angle::degrees(45.1), Angle::degrees(7.1)};
    const auto terrain = Terrain::open(path, at);
    if (!reads_geotiff()) {
        REQUIRE_FALSE(terrain.has_value());
        CHECK(terrain.error() ==
              path +
                  ": this program was built without GDAL, which reads GeoTIFF; accepted: .hgt "
                  "tiles");
        return;
    }
    if (!terrain) FAIL(terrain.error());
    CHECK(terrain->highest_m() == 800);
    CHECK(terrain->elevation_m(45.1, 7.1) == Approx(300));
    // A post is the middle of its cell: column 150 stands at 7.1505.
    CHECK(terrain->elevation_m(45.1, 7.1505) == Approx(800));
    CHECK_FALSE(terrain->elevation_m(45.1995, 7.0005).has_value());
    const auto skyline = terrain->skyline(at, 1.6, 100);
    REQUIRE(skyline.has_value());
    // 0.0505 degree of longitude at 45.1 N are 3.976 km.
    CHECK(skyline->horizon.altitude_at({Angle::degrees(90)}).above_horizon.in_degrees() ==
          Approx(apparent_altitude(3976, 301.6, 800).above_horizon.in_degrees()).margin(0.02));
    CHECK(skyline->missing == std::vector<std::string>{"what lies beyond the grid"});
    const std::string broken = folder.write("broken.tif", alp().substr(0, 60));
    CHECK_FALSE(Terrain::open(broken, at).has_value());
}
