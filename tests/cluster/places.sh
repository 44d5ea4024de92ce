# Sourced by the scripts beside it: a scratch folder and the places to share out.
# Exit code 77: skipped, with the reason said.

set -euo pipefail

program=$1
[ -x "$program" ] || { echo "usage: $0 PROGRAM" >&2; exit 2; }
scratch=$(mktemp -d)
cleanup() { rm -rf "$scratch"; }
trap cleanup EXIT

skip() {
    echo "skipped: $1"
    exit 77
}

need() {
    for tool in "$@"; do
        command -v "$tool" >/dev/null || skip "$tool is not installed"
    done
}

# The question, the same for every share of the places.
ask=("$program" batch - --json --dates 2026-02-17,2026-03-10 --threads 1)

# 400 rooms whose wall turns by a degree each.
for i in $(seq 400); do
    printf '%s"Room %d"%s%d%s\n' '{"format":1,"site":{"name":' "$i" \
        ',"position":"52.9536N 1.1505W","time_zone":"Europe/London"},"room":{"floor":[[0,0],[7.2,0],[7.2,4.6],[0,4.6]],"walls":["street","yard","back","party"],"height_m":3.1,"bearing":{"wall":"street","faces":' \
        $((i % 360)) \
        ',"north":"true"}},"window":[{"name":"press window","wall":"street","left_m":1.1,"width_m":1.4,"sill_m":0.85,"height_m":1.6,"reveal_m":0.28}],"mark":[{"name":"type case","at":[3.2,1.8],"height_m":1.25}]}'
done >"$scratch/places.ndjson"

"${ask[@]}" <"$scratch/places.ndjson" >"$scratch/one.json"
[ "$(wc -l <"$scratch/one.json")" = 800 ] || { echo "one process: not 800 lines" >&2; exit 1; }

# The n-th way of the manual's topic, as it is printed there, to be run in the scratch folder: with this
# program, and without the note that parallel wants cited.
of_topic() {
    awk -v wanted="$1" '/^```bash/ { inside = ++n == wanted; next }
                        /^```/ { inside = 0 }
                        inside { print }' "$(dirname "$0")/../../src/tell/manual/clusters.md" |
        sed -e "s,keyhour batch,$program batch," -e 's/^parallel /parallel --will-cite /'
}

# Are the shares, put together, what one process writes?
same() {
    cmp "$scratch/one.json" "$1" || { echo "$2 differs from one process" >&2; exit 1; }
    echo "$2: byte for byte as one process"
}
