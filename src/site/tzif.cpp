#include "tzif.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <vector>

namespace keyhour::site {
namespace {

/// One of the blocks of a TZif file: a header of 44 bytes and the data that its counts announce.
class ZoneBlock {
public:
    static constexpr std::size_t header_size = 44;

    /// @param time_size  bytes of a transition time: 4 in the first block, 8 in the second
    ZoneBlock(std::string_view bytes, std::size_t time_size)
        : bytes_{bytes}, time_size_{time_size} {
        if (bytes_.size() < header_size) return;
        for (std::size_t i = 0; i < counts_.size(); ++i)
            counts_[i] = big_endian(20 + 4 * i, 4);
    }

    [[nodiscard]] std::optional<std::string> fault() const {
        if (bytes_.substr(0, 4) != "TZif") return "does not begin with \"TZif\"";
        if (bytes_.size() < header_size) return "is cut short in its header";
        if (bytes_[4] != '\0' && (bytes_[4] < '2' || bytes_[4] > '4'))
            return "is of a version that is not known";
        const auto [utc, standard, leap, times, types, letters] = counts_;
        if (leap != 0) return "counts leap seconds, which clocks do not";
        if (types == 0 || types > 256 || letters == 0) return "has no local time type";
        if ((utc != 0 && utc != types) || (standard != 0 && standard != types))
            return "has indicators for other than its local time types";
        if (size() > bytes_.size()) return "is shorter than its header says";
        for (std::uint64_t i = 0; i < times; ++i)
            if (byte(times_end() + i) >= types) return "names a local time type that is not there";
        for (std::uint64_t i = 1; i < times; ++i)
            if (time(i) <= time(i - 1)) return "lists its changes out of their order";
        return fault_of_types(types, letters);
    }

    [[nodiscard]] std::size_t changes() const { return static_cast<std::size_t>(counts_[3]); }
    /// When a change takes effect. @return seconds since 1970, UTC
    [[nodiscard]] std::int64_t time(std::uint64_t change) const {
        const std::uint64_t bits = big_endian(header_size + change * time_size_, time_size_);
        return time_size_ == 4 ? static_cast<std::int32_t>(static_cast<std::uint32_t>(bits))
                               : static_cast<std::int64_t>(bits);
    }
    /// The local time type from then on.
    [[nodiscard]] std::size_t type(std::uint64_t change) const {
        return static_cast<std::size_t>(byte(times_end() + change));
    }
    [[nodiscard]] std::vector<PosixZone::Offset> types() const {
        const std::uint64_t begin = times_end() + counts_[3], names = begin + counts_[4] * 6;
        std::vector<PosixZone::Offset> types;
        for (std::uint64_t at = begin; at < names; at += 6) {
            const auto name = static_cast<std::size_t>(names + byte(at + 5));
            types.push_back({static_cast<std::int32_t>(big_endian(at, 4)), byte(at + 4) != 0,
                             std::string{bytes_.substr(name, bytes_.find('\0', name) - name)}});
        }
        return types;
    }

    /// Header and data. Counts are of 32 bits: the sum stays within 64.
    [[nodiscard]] std::uint64_t size() const {
        const auto [utc, standard, leap, times, types, letters] = counts_;
        return header_size + times * (time_size_ + 1) + types * 6 + letters +
               leap * (time_size_ + 4) + standard + utc;
    }

private:
    [[nodiscard]] std::uint64_t byte(std::uint64_t at) const {
        return static_cast<unsigned char>(bytes_[static_cast<std::size_t>(at)]);
    }
    [[nodiscard]] std::uint64_t big_endian(std::uint64_t at, std::size_t n) const {
        std::uint64_t value = 0;
        for (std::size_t i = 0; i < n; ++i)
            value = value << 8U | byte(at + i);
        return value;
    }
    [[nodiscard]] std::uint64_t times_end() const { return header_size + counts_[3] * time_size_; }

    [[nodiscard]] std::optional<std::string> fault_of_types(std::uint64_t types,
                                                            std::uint64_t letters) const {
        constexpr std::int32_t most_s = 26 * 3600;  // RFC 8536, section 3.2: -25 to 26 hours
        const std::uint64_t begin = times_end() + counts_[3], names = begin + types * 6;
        for (std::uint64_t i = 0; i < types; ++i) {
            const auto east_s = static_cast<std::int32_t>(big_endian(begin + 6 * i, 4));
            if (east_s > most_s || east_s < -most_s) return "has an offset of more than a day";
            const std::uint64_t name = byte(begin + 6 * i + 5);
            if (byte(begin + 6 * i + 4) > 1 || name >= letters)
                return "has a damaged local time type";
        }
        if (byte(names + letters - 1) != 0) return "has an abbreviation without an end";
        return std::nullopt;
    }

    std::string_view bytes_;
    std::size_t time_size_;
    std::array<std::uint64_t, 6> counts_{};  // utc, standard, leap, times, types, letters
};

/// As a file lists them.
class FileChanges final : public ListedChanges {
public:
    /// @pre the block has no fault
    explicit FileChanges(const ZoneBlock& block) : types_{block.types()} {
        for (std::size_t i = 0; i < block.changes(); ++i) {
            times_.push_back(block.time(i));
            type_from_.push_back(static_cast<std::uint8_t>(block.type(i)));
        }
    }

    [[nodiscard]] std::optional<PosixZone::Offset> at(std::int64_t unix_s,
                                                      bool has_rule) const override {
        const auto after =
            static_cast<std::size_t>(std::ranges::upper_bound(times_, unix_s) - times_.begin());
        if (after == times_.size() && has_rule) return std::nullopt;
        return after == 0 ? types_.front() : types_[type_from_[after - 1]];
    }

private:
    std::vector<PosixZone::Offset> types_;
    std::vector<std::int64_t> times_;
    std::vector<std::uint8_t> type_from_;
};

}  // namespace

std::string last_line_of_zone_file(std::string_view bytes) {
    // From version 2 on the file ends with the line, between two newlines.
    if (bytes.size() < 6 || bytes.substr(0, 4) != "TZif" || bytes[4] < '2') return {};
    if (bytes.back() != '\n') return {};
    const std::string_view body = bytes.substr(0, bytes.size() - 1);
    const std::size_t start = body.rfind('\n');
    if (start == std::string_view::npos) return {};
    return std::string{body.substr(start + 1)};
}

std::optional<std::string> fault_of_zone_file(std::string_view bytes) {
    const ZoneBlock first{bytes, 4};
    if (auto fault = first.fault()) return fault;
    if (bytes[4] == '\0') return std::nullopt;
    const std::string_view rest = bytes.substr(static_cast<std::size_t>(first.size()));
    const ZoneBlock second{rest, 8};
    if (auto fault = second.fault()) return fault;
    const std::string_view rule = rest.substr(static_cast<std::size_t>(second.size()));
    if (rule.size() < 2 || rule.front() != '\n' || rule.find('\n', 1) == std::string_view::npos)
        return "has no rule at its end";
    return std::nullopt;
}

tl::expected<NamedZone, std::string> zone_in(std::string_view bytes) {
    if (auto fault = fault_of_zone_file(bytes)) return tl::unexpected{*std::move(fault)};
    ZoneBlock block{bytes, 4};  // of 32 bits, for version 1
    if (bytes[4] != '\0')
        block = ZoneBlock{bytes.substr(static_cast<std::size_t>(block.size())), 8};
    NamedZone zone;
    zone.listed = std::make_shared<FileChanges>(block);
    std::string why;
    zone.rule = PosixZone::read(last_line_of_zone_file(bytes), why);
    return zone;
}

}  // namespace keyhour::site
