#!/usr/bin/env bash
# The static program of a small machine, in a folder that holds nothing but it and the example locations: no
# libraries, zones, locale, home or network. It answers the manual's questions as this machine's own program does.
#   small_machine.sh NATIVE_PROGRAM SOURCE_FOLDER PROGRAM MOST_BYTES [EMULATOR]
set -euo pipefail
native=$(realpath "$1") source=$(realpath "$2") program=$3 most=$4 emulator=${5:-}
[ -e "$program" ] || { echo "$program is not built" >&2; exit 77; }
fail() { echo "$1" >&2; exit 1; }
if unshare --map-root-user --net true 2>/dev/null; then
    apart=("$(command -v unshare)" --map-root-user --net "$(command -v chroot)")
elif [ "$(id -u)" = 0 ]; then
    apart=("$(command -v chroot)")
else
    echo "NOT RUN: this machine lets nobody change the root (unshare)"
    exit 77
fi
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
here=$scratch/here there=$scratch/there
mkdir "$here" "$there"
cp -r "$source/locations" "$here"
cp -r "$source/locations" "$there"
inside=(/keyhour)
cp "$program" "$there/keyhour"
if [ -n "$emulator" ]; then
    command -v "$emulator" >/dev/null || { echo "$emulator is not installed" >&2; [ -n "${CI:-}" ] && exit 1 || exit 77; }
    cp "$(command -v "$emulator")" "$there/emulator"
    inside=(/emulator /keyhour)
fi

size=$(stat -c %s "$program")
echo "$(readelf -h "$program" | sed -n 's/^ *Machine: *//p'): $size bytes of $most"
[ "$size" -le "$most" ] || fail "too large"
if readelf -lW "$program" | grep -E 'INTERP|DYNAMIC'; then fail "it wants libraries"; fi
if readelf -SW "$program" | grep -E '\.symtab|\.debug'; then fail "it is not stripped"; fi

asked=0
same() { # ARGUMENTS: the same output, errors and exit status
    local status=0
    (cd "$here" && exec env -i "$native" "$@") >"$scratch/here.out" 2>"$scratch/here.err" </dev/null || status=$?
    echo "status $status" >>"$scratch/here.err"
    status=0
    env -i "${apart[@]}" "$there" "${inside[@]}" "$@" >"$scratch/there.out" 2>"$scratch/there.err" </dev/null ||
        status=$?
    echo "status $status" >>"$scratch/there.err"
    diff "$scratch/here.out" "$scratch/there.out" && diff "$scratch/here.err" "$scratch/there.err" ||
        fail "answers otherwise: keyhour $*"
    asked=$((asked + 1))
}

file=locations/tallow-lane.toml date=2026-02-17
while read -r question; do
    eval "arguments=($question)"
    same "${arguments[@]}"
done < <(sed -n 's/^|.*| `keyhour \([^`]*\)`.*/\1/p' "$source/src/tell/manual/questions.md" |
         grep -v '^plan ' | sed "s|FILE|$file|; s|--date D|--date $date|")
[ "$asked" -ge 30 ] || fail "only $asked questions are in the manual"
# Every figure to its last digit; other zones and latitudes; what is refused.
same key "$file" --date "$date" --json
same patch locations/flax-road.toml --date 2026-03-10 --step 30 --json
same day locations/sundet.toml --date 2026-06-20 --json
same sun --position "1.4N 103.8E" --zone Asia/Singapore --date 2031-08-01 --step 60
same key "$file" --date 2026-02-30
same key "$file" --date "$date" --if 'site.time_zone="Europe/Londn"'
diff -r "$here/locations" "$there/locations"
cmp "$here/page.html" "$there/page.html"
echo "$asked questions answered alike"

if [ -z "$emulator" ]; then # as memory that is asked for at all, touched or not
    (ulimit -v 16384 && exec "$program" key "$source/locations/flax-road.toml" --from 2026-01-01 --to 2026-12-31) \
        >/dev/null || fail "a year's key does not fit into 16 MiB"
fi
