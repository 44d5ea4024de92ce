// The sun's speed, with ERFA's full models in the same run.
//
// Requirements: BM_ColdPosition a fifteenth of BM_ErfaFullModel or less; a position of
// BM_YearThroughTrack below 65 ns (time per item); BM_EventsOfAYear below 2 ms.

#include <benchmark/benchmark.h>

#include <vector>

#include "../published/erfa_sun.hpp"
#include "keyhour/sun/events.hpp"
#include "keyhour/sun/position.hpp"

using namespace keyhour;
using namespace keyhour::sun;

namespace {

constexpr Observer observer{Angle::degrees(52.9536), Angle::degrees(-1.1505), 61};
constexpr Instant new_year = Instant::from_unix_s(1767225600);  // 2026-01-01T00:00Z
constexpr Seconds year{365 * 86400.0};
constexpr Seconds five_minutes{300};

struct OwnedTrack {
    std::vector<TrackNode> nodes{Track::nodes_needed(new_year, new_year + year)};
    Track track = *Track::build(new_year, new_year + year, nodes);
};

/// ERFA's full models as its user would call them: apco13 (UTC to TT, epv00, IAU 2006/2000A),
/// aberration, the way to the horizon. (The tests' erfa_sun.hpp calls epv00 twice, for the light
/// time: 0.01 arcsec and a third of the time more. Here the cheaper one is the yardstick.)
double erfa_azimuth(Instant t) {
    eraASTROM astrom;
    double equation_of_origins, aberrated[3], intermediate[3], ri, di;
    eraApco13(erfa_sun::unix_epoch_jd, t.unix_s() / ERFA_DAYSEC, 0, observer.longitude.in_radians(),
              observer.latitude.in_radians(), observer.elevation_m, 0, 0, 0, 0, 0, 0.5, &astrom,
              &equation_of_origins);
    double sunward[3] = {-astrom.eh[0], -astrom.eh[1], -astrom.eh[2]};
    eraAb(sunward, astrom.v, astrom.em, astrom.bm1, aberrated);
    eraRxp(astrom.bpn, aberrated, intermediate);
    eraC2s(intermediate, &ri, &di);
    double azimuth, zenith_distance, hour_angle, declination, ascension;
    eraAtioq(ri, di, &astrom, &azimuth, &zenith_distance, &hour_angle, &declination, &ascension);
    return azimuth + zenith_distance;
}

void BM_ErfaFullModel(benchmark::State& state) {
    Instant t = new_year;
    for (auto _ : state) {
        benchmark::DoNotOptimize(erfa_azimuth(t));
        t = t + five_minutes;
    }
}
BENCHMARK(BM_ErfaFullModel);

void BM_ColdPosition(benchmark::State& state) {
    const Place place{observer};
    Instant t = new_year;
    for (auto _ : state) {
        benchmark::DoNotOptimize(place.position(geocentric_sun(t)));
        t = t + five_minutes;
    }
}
BENCHMARK(BM_ColdPosition);

void BM_BuildTrackOfAYear(benchmark::State& state) {
    std::vector<TrackNode> nodes(Track::nodes_needed(new_year, new_year + year));
    for (auto _ : state) {
        benchmark::DoNotOptimize(Track::build(new_year, new_year + year, nodes));
    }
}
BENCHMARK(BM_BuildTrackOfAYear);

/// Azimuth, altitude and refracted altitude every five minutes; time per position is the inverse
/// of items_per_second.
void BM_YearThroughTrack(benchmark::State& state) {
    const OwnedTrack owned;
    const Place place{observer};
    std::vector<Horizontal> positions(static_cast<std::size_t>(year / five_minutes));
    for (auto _ : state) {
        owned.track.horizontals(place, new_year, five_minutes, positions);
        benchmark::ClobberMemory();
    }
    const auto items = static_cast<double>(positions.size());
    state.counters["per_position"] = benchmark::Counter(
        items, benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}
BENCHMARK(BM_YearThroughTrack);

/// The same, one instant at a time.
void BM_YearThroughTrackOneByOne(benchmark::State& state) {
    const OwnedTrack owned;
    const Place place{observer};
    std::vector<Horizontal> positions(static_cast<std::size_t>(year / five_minutes));
    for (auto _ : state) {
        for (std::size_t i = 0; i < positions.size(); ++i) {
            const Instant t = new_year + static_cast<double>(i) * five_minutes;
            positions[i] = owned.track.horizontal(place, t);
        }
        benchmark::ClobberMemory();
    }
    const auto items = static_cast<double>(positions.size());
    state.counters["per_position"] = benchmark::Counter(
        items, benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}
BENCHMARK(BM_YearThroughTrackOneByOne);

/// Rise, set and three twilights and transits: what a year's calendar of one place asks for, the
/// building of the track included.
void BM_EventsOfAYear(benchmark::State& state) {
    const Place place{observer};
    std::vector<Crossing> out(3 * 366);
    std::vector<Instant> noons(366);
    for (auto _ : state) {
        const OwnedTrack owned;
        for (const Altitude altitude :
             {rise_altitude, civil_altitude, nautical_altitude, astronomical_altitude}) {
            benchmark::DoNotOptimize(
                crossings(owned.track, place, altitude, new_year, new_year + year, out));
        }
        benchmark::DoNotOptimize(transits(owned.track, place, new_year, new_year + year, noons));
    }
}
BENCHMARK(BM_EventsOfAYear)->Unit(benchmark::kMillisecond);

}  // namespace
