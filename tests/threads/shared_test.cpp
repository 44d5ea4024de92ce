// What several threads share: one room's study, zones, a folder that files are written into, and
// the work itself. What each finds is compared with what one thread finds; ThreadSanitizer (preset
// "threads") sees how they share it.

#include <array>
#include <catch2/catch.hpp>
#include <chrono>
#include <fstream>
#include <optional>
#include <sstream>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include "cli/ordered_work.hpp"
#include "file/atomic_file.hpp"
#include "keyhour/site/zone.hpp"
#include "keyhour/study/clean_key.hpp"
#include "keyhour/study/found_light.hpp"
#include "study/worked_room.hpp"
#include "support/scratch_folder.hpp"

using namespace keyhour;

namespace {

constexpr std::size_t crowd = 6;

/// Calls work(number) in so many threads at once.
template <class Work>
void in_threads(const Work& work) {
    std::vector<std::jthread> threads;
    for (std::size_t i = 0; i < crowd; ++i)
        threads.emplace_back([&work, i] { work(i); });
}

std::string content(const std::string& path) {
    std::ostringstream all;
    all << std::ifstream{path}.rdbuf();
    return all.str();
}

}  // namespace

TEST_CASE("many threads ask one room for its key and its found light", "[threads]") {
    const Instant noon = Instant::from_unix_s(1771329600);  // 2026-02-17 12:00
    site::Location location = study::WorkedRoom{}.location();
    location.found.readings = {{"outside", std::nullopt, noon, 12000, light::Cloud::overcast}};
    const auto shared =
        study::SharedTrack::make(noon - Seconds{2 * 86400}, noon + Seconds{2 * 86400});
    const study::RoomStudy study{location, shared};
    study::KeySettings settings;
    settings.altitude_deg[0] = 0;
    std::array<std::vector<study::KeyInterval>, crowd> keys;
    std::array<const study::FoundInRoom*, crowd> found{};
    in_threads([&](std::size_t i) {
        found[i] = study.found();
        keys[i] = study::clean_key(study, noon - Seconds{43200}, noon + Seconds{43200}, settings);
    });
    REQUIRE(!keys[0].empty());
    REQUIRE(found[0] != nullptr);
    const auto alone =
        study::clean_key(study, noon - Seconds{43200}, noon + Seconds{43200}, settings);
    for (std::size_t i = 0; i < crowd; ++i) {
        CHECK(found[i] == found[0]);
        REQUIRE(keys[i].size() == alone.size());
        for (std::size_t k = 0; k < alone.size(); ++k) {
            CHECK(keys[i][k].possible.from == alone[k].possible.from);
            CHECK(keys[i][k].possible.to == alone[k].possible.to);
        }
    }
}

TEST_CASE("many threads read and ask the same zones", "[threads]") {
    const std::array<const char*, 4> names{"Europe/London", "America/New_York",
                                           "GMT0BST,M3.5.0/1,M10.5.0", "Asia/Kolkata"};
    // July; the offsets are those of law, from memory.
    const Instant july = Instant::from_unix_s(1783000000);
    using std::chrono::minutes;
    const std::array<minutes, 4> offset{minutes{60}, minutes{-240}, minutes{60}, minutes{330}};
    std::array<bool, crowd> right{};
    in_threads([&](std::size_t i) {
        right[i] = true;
        for (std::size_t k = 0; k < names.size(); ++k) {
            const auto zone = site::Zone::named(names[(i + k) % names.size()]);
            if (!zone || zone->at(july).utc_offset != offset[(i + k) % names.size()])
                right[i] = false;
        }
    });
    for (std::size_t i = 0; i < crowd; ++i)
        CHECK(right[i]);
}

TEST_CASE("many threads write into one folder", "[threads]") {
    const test::ScratchFolder folder;
    std::array<bool, crowd> written{};
    in_threads([&](std::size_t i) {
        auto file = file::AtomicFile::create(folder.path("day" + std::to_string(i)),
                                             file::AtomicFile::Existing::replace);
        if (!file) return;
        file->stream() << "thread " << i << '\n';
        written[i] = file->commit().has_value();
    });
    for (std::size_t i = 0; i < crowd; ++i) {
        CHECK(written[i]);
        CHECK(content(folder.path("day" + std::to_string(i))) ==
              "thread " + std::to_string(i) + "\n");
    }
}

TEST_CASE("results come in order, and a failure or a full hand ends the work", "[threads]") {
    const int items = 2000;
    int taken = 0;
    std::vector<int> given;
    const auto take = [&]() -> std::optional<int> {
        return taken < items ? std::optional{taken++} : std::nullopt;
    };
    const auto twice = [](int& item) { return 2 * item; };
    const auto keep = [&](int& result) {
        given.push_back(result);
        return true;
    };
    cli::OrderedWork{crowd, take, twice, keep};
    REQUIRE(given.size() == items);
    for (int i = 0; i < items; ++i)
        REQUIRE(given[static_cast<std::size_t>(i)] == 2 * i);

    taken = 0, given.clear();
    const auto fails = [](int& item) {
        if (item == 700) throw std::runtime_error{"no such room"};
        return item;
    };
    CHECK_THROWS_WITH((cli::OrderedWork{crowd, take, fails, keep}), "no such room");
    CHECK(given.size() <= 700);

    taken = 0, given.clear();
    const auto full = [&](int& result) {
        given.push_back(result);
        return given.size() < 50;
    };
    cli::OrderedWork{crowd, take, twice, full};
    CHECK(given.size() == 50);
    CHECK(taken < items);
}
