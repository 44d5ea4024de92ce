#!/usr/bin/env bash
# The library as somebody else has it: installed from a build into a folder, found there by CMake, asked
# by a program of a project of its own, whose answers are the program's.
#   run.sh BUILD_FOLDER SOURCE_FOLDER
set -euo pipefail
build=$1 source=$2
here=$(cd "$(dirname "$0")" && pwd)
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT

cmake --install "$build" --prefix "$scratch/usr" >"$scratch/install.log"
keyhour=$scratch/usr/bin/keyhour
# What is installed knows neither where it was built nor its sources.
if found=$(grep -rlF -e "$build" -e "$source/" "$scratch/usr"); then
    echo "a path of the build is in: $found" >&2
    exit 1
fi

cmake -S "$here" -B "$scratch/build" -G Ninja -DCMAKE_PREFIX_PATH="$scratch/usr" -DCMAKE_BUILD_TYPE=Debug \
    >"$scratch/configure.log" || { cat "$scratch/configure.log" >&2; exit 1; }
cmake --build "$scratch/build" >"$scratch/build.log" || { cat "$scratch/build.log" >&2; exit 1; }

[ "keyhour $("$scratch/build/key_of_a_room" --version)" = "$("$keyhour" --version)" ]
for date in 2026-02-17 2026-10-20; do
    "$scratch/build/key_of_a_room" $date >"$scratch/library"
    "$keyhour" key "$here/room.toml" --date $date --no-light --no-doubt --json | tr ',{' '\n\n' >"$scratch/json"
    # start and end of each interval: to the millisecond, as the program has them
    paste -d ' ' <(sed -n 's/^"start_utc":"\(.*\)"$/\1/p' "$scratch/json") \
        <(sed -n 's/^"end_utc":"\(.*\)"$/\1/p' "$scratch/json") >"$scratch/program"
    [ -s "$scratch/program" ] || { echo "no key on $date" >&2; exit 1; }
    diff "$scratch/program" "$scratch/library"
    # The same room in C, which finds ends by another way: within 0.2 s.
    "$scratch/build/key_in_c" "$(date -u -d "$date" +%s)" >"$scratch/c"
    while read -r start end; do echo "$(date -u -d "$start" +%s.%3N) $(date -u -d "$end" +%s.%3N)"; done \
        <"$scratch/program" | sort >"$scratch/seconds"
    sort "$scratch/c" | paste -d ' ' "$scratch/seconds" - |
        awk 'NF != 4 || ($1 - $3) ^ 2 > 0.04 || ($2 - $4) ^ 2 > 0.04 { print "in C differently:", $0; bad = 1 }
             END { exit bad }' >&2

    "$scratch/build/key_of_a_room" $date --lock >"$scratch/library"
    "$keyhour" lock "$here/room.toml" --date $date --start 05:00 --minutes 360 --json | tr ',{' '\n\n' |
        sed -n 's/^"needed_by_at_any_bearing_utc":"\([^"]*\)".*$/\1/p' >"$scratch/program"
    [ -s "$scratch/program" ] || { echo "nothing to cover on $date" >&2; exit 1; }
    diff "$scratch/program" "$scratch/library"
done

[ "$("$scratch/build/key_in_c")" = "$("$scratch/build/sun_at_noon")" ]
read -r azimuth altitude < <("$scratch/build/sun_at_noon")
"$keyhour" sun --position "52.5N 1.5W" --elevation 90 --zone UTC0 --date 2026-06-21 --time 12:00 --json |
    tr ',{' '\n\n' >"$scratch/sun"
for figure in "azimuth_deg $azimuth" "altitude_deg $altitude"; do
    said=$(sed -n "s/^\"${figure% *}\":\([0-9.]*\).*/\1/p" "$scratch/sun" | head -1)
    awk -v a="$said" -v b="${figure#* }" 'BEGIN { exit !(a != "" && (a - b) ^ 2 < 1e-9) }' ||
        { echo "${figure% *}: the library says ${figure#* }, the program $said" >&2; exit 1; }
done
echo "the installed library answers as the program does"
