#!/usr/bin/env bash
# The program on a machine that has nothing: no zone files, no network, no home folder, no locale, no writable
# folder. A zone by its POSIX rule is enough there, and a named one says what is missing.
set -euo pipefail
program=$1 locations=$2
bare=$(mktemp -d)
trap 'rm -rf "$bare"' EXIT

if unshare --map-root-user --mount --net true 2>/dev/null; then
    apart=(unshare --map-root-user --mount --net)
elif unshare --mount --net true 2>/dev/null; then
    apart=(unshare --mount --net)
else
    echo "NOT RUN: this machine lets nobody take away its folders (unshare)"
    exit 77
fi
mkdir "$bare/empty"
without() {
    "${apart[@]}" bash -c 'mount --bind "$1" /usr/share/zoneinfo && cd / && shift && exec env -i "$@"' \
        bash "$bare/empty" "$@"
}

sed 's|^time_zone = .*|time_zone = "GMT0BST,M3.5.0/1,M10.5.0"|' "$locations/tallow-lane.toml" > "$bare/room.toml"
for question in "key --line" "day --line" "exterior" "lock --minutes 120" "lamp --like 13:00" "patch --time 13:00" \
                "check" "batch" "sheet --only page -o -"; do
    read -r command rest <<< "$question"
    dates=(--date 2026-02-17)
    [ "$command" = check ] && dates=(--year 2026)
    # shellcheck disable=SC2086
    "$program" "$command" "$bare/room.toml" "${dates[@]}" $rest > "$bare/here"
    # shellcheck disable=SC2086
    without "$program" "$command" "$bare/room.toml" "${dates[@]}" $rest > "$bare/there"
    cmp "$bare/here" "$bare/there" || { echo "$question differs without zone files"; exit 1; }
    [ -s "$bare/there" ] || { echo "$question says nothing"; exit 1; }
done

if without "$program" key "$locations/tallow-lane.toml" --date 2026-02-17 2> "$bare/said"; then
    echo "a named zone was answered without zone files"
    exit 1
fi
grep -q 'this machine has no zone files' "$bare/said"
grep -q 'POSIX TZ string' "$bare/said"
