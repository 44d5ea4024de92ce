#pragma once
// Changes of clocks as zdump lists them: tzcode's own printer of the zone database, as the system
// has it.

#include <date/date.h>

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <memory>
#include <sstream>
#include <string>
#include <vector>

#include "keyhour/sun/instant.hpp"

namespace zone_dump {

using keyhour::Instant;

// Both hemispheres, a change of half an hour, changes by the moon, and at midnight.
inline constexpr std::array ten_zones{
    "Europe/London",     "Europe/Oslo",        "America/New_York",    "America/St_Johns",
    "America/Santiago",  "Australia/Adelaide", "Australia/Lord_Howe", "Pacific/Auckland",
    "Africa/Casablanca", "Asia/Beirut"};

/// A change of clocks as zdump lists it: the instant, and the offsets before and from it.
struct Listed {
    Instant at;
    int before_s = 0, after_s = 0;
};

/// "Europe/London  Sun Mar 29 01:00:00 2026 UT = Sun Mar 29 02:00:00 2026 BST isdst=1 gmtoff=3600"
inline std::vector<Listed> zdump(const std::string& zone) {
    const std::string command = "zdump -v -c 2026,2033 " + zone;
    const std::unique_ptr<FILE, int (*)(FILE*)> pipe{::popen(command.c_str(), "r"), ::pclose};
    REQUIRE(pipe);
    std::vector<Listed> out;
    std::array<char, 512> buffer{};
    int before = 0;
    while (std::fgets(buffer.data(), buffer.size(), pipe.get())) {
        std::istringstream words{buffer.data()};
        std::string name, day, month, date, time, year, rest;
        words >> name >> day >> month >> date >> time >> year;
        const std::string line = buffer.data();
        const auto offset = line.find("gmtoff=");
        if (year.size() != 4 || offset == std::string::npos) continue;
        constexpr std::string_view months = "JanFebMarAprMayJunJulAugSepOctNovDec";
        const auto m = static_cast<unsigned>(months.find(month) / 3 + 1);
        const date::sys_days on{date::year{std::stoi(year)} / date::month{m} /
                                date::day{static_cast<unsigned>(std::stoul(date))}};
        const auto seconds = on.time_since_epoch() +
                             std::chrono::hours{std::stoi(time.substr(0, 2))} +
                             std::chrono::minutes{std::stoi(time.substr(3, 2))} +
                             std::chrono::seconds{std::stoi(time.substr(6, 2))};
        const Instant at =
            Instant::from_unix_s(static_cast<double>(std::chrono::seconds{seconds}.count()));
        const int now = std::stoi(line.substr(offset + 7));
        // Two lines a change: its last second, and the instant itself.
        if (time.ends_with(":59"))
            before = now;
        else
            out.push_back({at, before, now});
    }
    return out;
}

/// The clock reading at an instant by an offset, without any zone.
inline std::string by_offset(Instant t, int offset_s) {
    const auto local = static_cast<long long>(std::floor(t.unix_s())) + offset_s;
    const long long minute = ((local % 86400) + 86400) % 86400 / 60;
    char text[8];
    std::snprintf(text, sizeof text, "%02lld:%02lld", minute / 60, minute % 60);
    return text;
}

}  // namespace zone_dump
