#include <fcntl.h>
#include <fmt/format.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <filesystem>

#include "keyhour/site/elevation_grid.hpp"
#include "keyhour/site/quoted.hpp"

namespace keyhour::site {
namespace {

constexpr std::size_t bytes_a_post = 2;
constexpr std::int16_t void_post = -32768;

/// A file mapped for reading, unmapped at the end.
class MappedFile {
public:
    MappedFile(const unsigned char* bytes, std::size_t size) : bytes_{bytes}, size_{size} {}
    ~MappedFile() { munmap(const_cast<unsigned char*>(bytes_), size_); }
    MappedFile(const MappedFile&) = delete;
    MappedFile& operator=(const MappedFile&) = delete;
    [[nodiscard]] const unsigned char* bytes() const noexcept { return bytes_; }
    /// The system may keep the pages in its cache, but no longer counts them as ours.
    void give_back() const noexcept {
        madvise(const_cast<unsigned char*>(bytes_), size_, MADV_DONTNEED);
    }

private:
    const unsigned char* bytes_;
    std::size_t size_;
};

class SrtmTile final : public ElevationGrid {
public:
    SrtmTile(std::unique_ptr<MappedFile> file, int south, int west, std::size_t side)
        : file_{std::move(file)} {
        const double step = 1.0 / static_cast<double>(side - 1);
        shape_ = {south + 1.0, static_cast<double>(west), step, step, side, side};
    }

    std::optional<double> post(std::size_t row, std::size_t column) const override {
        const std::int16_t metres = at(row * shape_.columns + column);
        if (metres == void_post) return std::nullopt;
        return metres;
    }

    std::optional<double> highest_m() const override {
        std::int16_t highest = void_post;
        constexpr std::size_t rows_at_once = 512;
        for (std::size_t row = 0; row < shape_.rows; ++row) {
            for (std::size_t i = row * shape_.columns; i < (row + 1) * shape_.columns; ++i)
                highest = std::max(highest, at(i));
            if (row % rows_at_once == 0) give_back();
        }
        give_back();
        if (highest == void_post) return std::nullopt;
        return highest;
    }

    void give_back() const override { file_->give_back(); }

private:
    std::int16_t at(std::size_t i) const {
        const unsigned char* p = file_->bytes() + bytes_a_post * i;
        return static_cast<std::int16_t>(static_cast<std::uint16_t>(p[0] << 8U | p[1]));
    }

    std::unique_ptr<MappedFile> file_;
};

struct Corner {
    int south = 0, west = 0;
};

/// "N52W002" -> 52, -2.
std::optional<Corner> corner_of(const std::string& name) {
    const auto digits = [&](std::size_t from, std::size_t count) {
        int value = 0;
        for (std::size_t i = from; i < from + count; ++i) {
            if (name[i] < '0' || name[i] > '9') return -1;
            value = 10 * value + (name[i] - '0');
        }
        return value;
    };
    if (name.size() != 7) return std::nullopt;
    const int latitude = digits(1, 2), longitude = digits(4, 3);
    const char ns = name[0], ew = name[3];
    const bool south = ns == 'S' || ns == 's', west = ew == 'W' || ew == 'w';
    if (!(south || ns == 'N' || ns == 'n') || !(west || ew == 'E' || ew == 'e'))
        return std::nullopt;
    if (latitude < 0 || longitude < 0 || latitude > (south ? 90 : 89) ||
        longitude > (west ? 180 : 179))
        return std::nullopt;
    return Corner{south ? -latitude : latitude, west ? -longitude : longitude};
}

std::optional<std::size_t> side_of(std::size_t bytes) {
    for (const std::size_t side : {std::size_t{1201}, std::size_t{3601}})
        if (bytes == side * side * bytes_a_post) return side;
    return std::nullopt;
}

}  // namespace

tl::expected<std::unique_ptr<ElevationGrid>, std::string> open_srtm_tile(const std::string& path) {
    const auto refused = [](std::string why) { return tl::unexpected{std::move(why)}; };
    const std::string name = std::filesystem::path{path}.stem().string();
    const auto corner = corner_of(name);
    if (!corner)
        return refused(
            fmt::format("{}: the name {} is not that of a tile; accepted: the south-west "
                        "corner, as in N52W002.hgt",
                        path, site::quoted(name)));
    const int file = open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    if (file < 0)
        return refused(fmt::format("{}: the file cannot be read: {}; accepted: an SRTM tile", path,
                                   std::strerror(errno)));
    struct stat about {};
    if (fstat(file, &about) != 0 || !S_ISREG(about.st_mode)) {
        close(file);
        return refused(path + ": this is no plain file; accepted: an SRTM tile");
    }
    const auto bytes = static_cast<std::size_t>(about.st_size);
    const auto side = side_of(bytes);
    if (!side) {
        close(file);
        return refused(
            fmt::format("{}: a tile of {} bytes; accepted: 2884802 bytes (1201 by 1201 "
                        "posts) or 25934402 (3601 by 3601)",
                        path, bytes));
    }
    void* mapped = mmap(nullptr, bytes, PROT_READ, MAP_PRIVATE, file, 0);
    const int why = errno;
    close(file);  // the mapping keeps it
    if (mapped == MAP_FAILED)
        return refused(fmt::format("{}: the file cannot be mapped: {}; accepted: an SRTM tile",
                                   path, std::strerror(why)));
    auto held = std::make_unique<MappedFile>(static_cast<const unsigned char*>(mapped), bytes);
    return std::make_unique<SrtmTile>(std::move(held), corner->south, corner->west, *side);
}

}  // namespace keyhour::site
