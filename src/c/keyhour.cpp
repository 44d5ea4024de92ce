// The C header over the core: checks what comes in, lends the room's spare memory to each question.

#include "keyhour/keyhour.h"

#include <algorithm>
#include <cmath>
#include <new>

#include "day_keys.hpp"
#include "keyhour/sun/position.hpp"
#include "lit_pieces.hpp"

using namespace keyhour;
using c::ArenaList;
using c::ArenaScope;

namespace {

bool is_within(double x, double low, double high) noexcept {
    return x >= low && x <= high;
}

bool is_sound(const keyhour_observer& o) noexcept {
    return is_within(o.latitude_deg, -90, 90) && is_within(o.longitude_deg, -180, 180) &&
           is_within(o.elevation_m, -500, 9000) && is_within(o.pressure_hpa, 0, 1100) &&
           is_within(o.temperature_c, -60, 60);
}

bool is_sound(const keyhour_key_settings& s) noexcept {
    const auto is_range = [](const double(&range)[2], double most) {
        return is_within(range[0], 0, most) && is_within(range[1], range[0], most);
    };
    if (!(s.coverage > 0 && s.coverage <= 1) || !is_range(s.key_angle_deg, 180) ||
        !is_range(s.altitude_deg, 90) || !is_within(s.shortest_s, 0, 86400))
        return false;
    if (s.skyline_points > 0 && !s.skyline) return false;
    for (std::size_t i = 0; i < s.skyline_points; ++i) {
        const double least = i == 0 ? 0 : s.skyline[i - 1].bearing_deg;
        const keyhour_skyline_point& p = s.skyline[i];
        if (!is_within(p.bearing_deg, least, 360) || p.bearing_deg >= 360 ||
            (i > 0 && p.bearing_deg <= least) || !is_within(p.altitude_deg, -90, 90))
            return false;
    }
    return true;
}

bool is_unit(const keyhour_direction& d) noexcept {
    const double squared = d.east * d.east + d.north * d.north + d.up * d.up;
    return is_within(squared, 0.998, 1.002);
}

sun::Place place_of(const keyhour_observer& o) noexcept {
    return sun::Place{
        {Angle::degrees(o.latitude_deg), Angle::degrees(o.longitude_deg), o.elevation_m},
        {o.pressure_hpa, o.temperature_c}};
}

/// Longest list of outlines that any question can need.
std::size_t most_covers(const c::SmallRoom& room) noexcept {
    std::size_t most = 0;
    for (const c::SmallOpening& o : room.openings())
        most = std::max(most, o.outside.size() + o.objects.size() + o.walls.size());
    return most;
}

}  // namespace

keyhour_observer keyhour_observer_at(double latitude_deg, double longitude_deg,
                                     double elevation_m) {
    const Weather air;
    return {latitude_deg, longitude_deg, elevation_m, air.pressure_hpa, air.temperature_c};
}

keyhour_status keyhour_sun_at(const keyhour_observer* observer, double unix_s, keyhour_sun* out) {
    if (!observer || !out || !is_sound(*observer)) return KEYHOUR_BAD_VALUE;
    const Instant t = Instant::from_unix_s(unix_s);
    if (!sun::is_served(t)) return std::isfinite(unix_s) ? KEYHOUR_NOT_SERVED : KEYHOUR_BAD_VALUE;
    const sun::Place place = place_of(*observer);
    const sun::ApparentVector vector = sun::apparent_vector(t);
    const sun::Position p = place.position(sun::as_angles(vector, t));
    const LevelVector toward = place.direction(vector, true);
    *out = {p.azimuth.from_north.in_degrees(),
            p.true_altitude.above_horizon.in_degrees(),
            p.apparent_altitude.above_horizon.in_degrees(),
            p.declination.in_degrees(),
            p.equation_of_time.in_degrees() * 4,
            p.angular_diameter.in_degrees(),
            p.distance_au,
            {toward.east, toward.north, toward.up}};
    return KEYHOUR_OK;
}

keyhour_status keyhour_prepare(const keyhour_room* room, void* memory, std::size_t bytes,
                               keyhour_scene** scene, std::size_t* used) {
    if (!scene) return KEYHOUR_BAD_VALUE;
    *scene = nullptr;
    if (!room || !memory) return KEYHOUR_BAD_VALUE;
    if (const keyhour_status fault = c::fault_of(*room)) return fault;
    c::Arena arena{memory, bytes};
    void* const at = arena.take(sizeof(keyhour_scene), alignof(keyhour_scene));
    if (!at) return KEYHOUR_NO_MEMORY;
    auto* const made = ::new (at) keyhour_scene{*room, arena};
    if (!made->has_memory()) return KEYHOUR_NO_MEMORY;
    if (used)
        *used =
            static_cast<std::size_t>(made->spare().next() - static_cast<const std::byte*>(memory));
    *scene = made;
    return KEYHOUR_OK;
}

keyhour_status keyhour_coverage(keyhour_scene* scene, std::size_t mark, std::size_t window,
                                keyhour_direction sun, double* out) {
    if (!scene || !out || !is_unit(sun)) return KEYHOUR_BAD_VALUE;
    if (mark >= scene->marks().size() || window >= scene->openings().size())
        return KEYHOUR_BAD_ROOM;
    const ArenaScope scope{scene->spare()};
    c::Covers covers{&scene->spare()};
    covers.reserve(most_covers(*scene));
    if (!scene->has_memory()) return KEYHOUR_NO_MEMORY;
    *out = c::SmallScene{*scene, covers}.coverage(mark, window,
                                                  scene->to_plan({sun.east, sun.north, sun.up}));
    return KEYHOUR_OK;
}

keyhour_status keyhour_patches(keyhour_scene* scene, std::size_t window, keyhour_direction sun,
                               keyhour_patch* out, std::size_t capacity, std::size_t* count,
                               keyhour_piece_sink sink, void* context) {
    if (!scene || !count || (capacity > 0 && !out) || !is_unit(sun)) return KEYHOUR_BAD_VALUE;
    *count = 0;
    if (window >= scene->openings().size()) return KEYHOUR_BAD_ROOM;
    room::SunRays rays;
    if (!make_rays(scene->openings()[window], scene->to_plan({sun.east, sun.north, sun.up}), rays))
        return KEYHOUR_OK;
    const ArenaScope scope{scene->spare()};
    c::Covers covers{&scene->spare()};
    covers.reserve(most_covers(*scene));
    if (!scene->has_memory()) return KEYHOUR_NO_MEMORY;
    c::PieceSink pieces{sink, context};
    c::LitPieces lit{*scene, window, rays, covers, pieces};
    bool is_full = false;
    const auto finish = [&] {
        const keyhour_patch patch = pieces.patch();
        if (patch.area_m2 < room::smallest_patch_m2) return;
        is_full = is_full || *count == capacity;
        if (!is_full) out[(*count)++] = patch;
    };
    pieces.begin(KEYHOUR_FLOOR, 0);
    lit.on_floor();
    finish();
    for (std::size_t i = 0; i < scene->floor().size(); ++i) {
        if (i == scene->wall_of(window)) continue;
        pieces.begin(KEYHOUR_WALL, i);
        lit.on_wall(i);
        finish();
    }
    for (std::size_t i = 0; i < scene->objects().size(); ++i) {
        pieces.begin(KEYHOUR_OBJECT, i);
        lit.on_object(i);
        finish();
    }
    return is_full ? KEYHOUR_TOO_MANY : KEYHOUR_OK;
}

keyhour_key_settings keyhour_usual_key_settings(void) {
    return {0.95, {25, 70}, {8, 55}, 60, nullptr, 0};
}

namespace {

/// Puts the spans of one mark, camera and window behind the keys found so far.
class KeyWriter {
public:
    KeyWriter(keyhour_key* out, std::size_t capacity, double shortest_s) noexcept
        : out_{out}, capacity_{capacity}, shortest_s_{shortest_s} {}

    void add(const study::Span& span, std::size_t mark, std::size_t window,
             std::size_t camera) noexcept {
        if (span.length().count() < shortest_s_) return;
        is_full_ = is_full_ || count_ == capacity_;
        if (!is_full_)
            out_[count_++] = {mark, window, camera, span.from.unix_s(), span.to.unix_s()};
    }
    [[nodiscard]] std::size_t count() const noexcept { return count_; }
    [[nodiscard]] bool is_full() const noexcept { return is_full_; }

private:
    keyhour_key* out_;
    std::size_t capacity_, count_ = 0;
    double shortest_s_;
    bool is_full_ = false;
};

/// @return whether memory sufficed
bool write_keys(keyhour_scene& scene, const c::SmallPath& path, const study::KeyLimits& limits,
                c::Covers& covers, KeyWriter& writer) noexcept {
    const c::SmallScene small{scene, covers};
    bool is_enough = true;
    const auto with_camera = [&](std::size_t mark, const c::SmallCamera* camera,
                                 std::size_t index) {
        for (std::size_t window = 0; window < scene.openings().size(); ++window) {
            const ArenaScope scope{scene.spare()};
            ArenaList<study::Span> spans{&scene.spare()};
            constexpr std::size_t most_days_have = 16;
            spans.reserve(most_days_have);
            if (!scene.has_memory()) return void(is_enough = false);
            find_keys(scene, small, path, limits, mark, camera, window, spans);
            if (!scene.has_memory()) return void(is_enough = false);
            for (const study::Span& span : spans)
                writer.add(span, mark, window, index);
        }
    };
    for (std::size_t mark = 0; mark < scene.marks().size(); ++mark) {
        bool is_aimed_at = false;
        for (std::size_t i = 0; i < scene.cameras().size(); ++i)
            if (scene.cameras()[i].aims_at == mark) {
                is_aimed_at = true;
                with_camera(mark, &scene.cameras()[i], i);
            }
        if (!is_aimed_at) with_camera(mark, nullptr, KEYHOUR_NONE);
    }
    return is_enough;
}

}  // namespace

keyhour_status keyhour_keys(keyhour_scene* scene, const keyhour_observer* observer,
                            const keyhour_key_settings* settings, double from_unix_s,
                            double to_unix_s, keyhour_key* out, std::size_t capacity,
                            std::size_t* count) {
    if (!scene || !observer || !settings || !count || (capacity > 0 && !out))
        return KEYHOUR_BAD_VALUE;
    *count = 0;
    if (!is_sound(*observer) || !is_sound(*settings) ||
        !is_within(to_unix_s - from_unix_s, 1, c::longest_search_s))
        return KEYHOUR_BAD_VALUE;
    const Instant from = Instant::from_unix_s(from_unix_s), to = Instant::from_unix_s(to_unix_s);
    if (!sun::is_served(from) || !sun::is_served(to)) return KEYHOUR_NOT_SERVED;

    const ArenaScope scope{scene->spare()};
    c::Arena& memory = scene->spare();
    c::Covers covers{&memory};
    covers.reserve(most_covers(*scene));
    ArenaList<site::HorizonPoint> skyline{&memory};
    for (std::size_t i = 0; i < settings->skyline_points; ++i)
        skyline.push_back({Angle::degrees(settings->skyline[i].bearing_deg),
                           Angle::degrees(settings->skyline[i].altitude_deg)});
    const std::size_t nodes_needed = sun::Track::nodes_needed(from, to);
    auto* const nodes = memory.take_for<sun::TrackNode>(nodes_needed);
    if (!nodes || !scene->has_memory()) return KEYHOUR_NO_MEMORY;
    for (std::size_t i = 0; i < nodes_needed; ++i)
        ::new (static_cast<void*>(nodes + i)) sun::TrackNode;
    const auto track = sun::Track::build(from, to, {nodes, nodes_needed});
    if (!track) return KEYHOUR_NOT_SERVED;

    const sun::Place place = place_of(*observer);
    const study::KeyLimits limits{settings->coverage,
                                  {settings->key_angle_deg[0], settings->key_angle_deg[1]},
                                  {settings->altitude_deg[0], settings->altitude_deg[1]}};
    KeyWriter writer{out, capacity, settings->shortest_s};
    const c::SmallPath path{*track, place, {skyline.data(), skyline.size()}};
    if (!write_keys(*scene, path, limits, covers, writer)) return KEYHOUR_NO_MEMORY;
    *count = writer.count();
    return writer.is_full() ? KEYHOUR_TOO_MANY : KEYHOUR_OK;
}
