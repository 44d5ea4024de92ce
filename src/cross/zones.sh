#!/usr/bin/env bash
# Packs this machine's time zones into one file, for a program that is to know them where there are none
# (src/site/zone_archive.hpp tells its form). Needs tzdata, and zic of the C library's own programs.
#   zones.sh FILE
set -euo pipefail
[ $# -eq 1 ] || { echo "usage: zones.sh FILE, which is written" >&2; exit 2; }
source=/usr/share/zoneinfo
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
# As short as they can be: after the last change that differs the rule holds.
PATH=$PATH:/usr/sbin:/sbin zic -b slim -d "$scratch/zones" "$source/tzdata.zi"
cd "$scratch/zones"
find . -type f -printf '%P\n' | grep -vx Factory | LC_ALL=C sort > ../names
xargs sha256sum < ../names > ../digests
xargs stat -c %s < ../names > ../sizes
# The newer table's places first; equal files once.
paste ../digests ../sizes | awk -v tables="$source/zone1970.tab $source/zone.tab" -v version="$(
        sed -n '1s/^# version //p' "$source/tzdata.zi")" '
    BEGIN {
        n = split(tables, table, " ")
        for (i = 1; i <= n; ++i)
            while ((getline line < table[i]) > 0)
                if (line !~ /^#/ && split(line, field, "\t") > 2 && !(field[3] in place)) place[field[3]] = field[2]
        print version
    }
    !($1 in offset) { offset[$1] = at; at += $3; print $2 > "../unique" }
    { print $2, offset[$1] + 0, $3 (($2 in place) ? " " place[$2] : "") }
    END { print "" }' > ../archive
xargs cat < ../unique >> ../archive
cat ../archive > "$1"
