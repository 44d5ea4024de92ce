#!/usr/bin/env bash
# The manual's pages in the hands of groff: no warning, and the words of the help.
# Exit code 77: skipped, with the reason said; never where CI is set.
set -euo pipefail

program=$1
command -v groff >/dev/null || {
    [ -z "${CI:-}" ] || { echo "groff is not installed (groff-base)" >&2; exit 1; }
    echo "skipped: groff is not installed"
    exit 77
}
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT

"$program" help --man "$scratch"
# A second run replaces its own pages, and nothing else.
"$program" help --man "$scratch"
mkdir "$scratch/other"
echo "a letter" >"$scratch/other/keyhour-key.1"
if "$program" help --man "$scratch/other" 2>"$scratch/refused"; then
    echo "a file that keyhour did not write was replaced" >&2
    exit 1
fi
grep -q "keyhour-key.1" "$scratch/refused"
[ "$(cat "$scratch/other/keyhour-key.1")" = "a letter" ]

pages=0
for page in "$scratch"/*.[17]; do
    said=$(groff -man -Tutf8 -ww -z "$page" 2>&1)
    [ -z "$said" ] || { echo "$said" >&2; exit 1; }
    if command -v mandoc >/dev/null; then
        mandoc -Tlint -W warning "$page"
    fi
    pages=$((pages + 1))
done
# One for each line of the list that names a command or a topic, and keyhour(1); a name that is both stands in the
# list once.
both=0
for page in "$scratch"/*.1; do [ ! -e "${page%.1}.7" ] || both=$((both + 1)); done
[ "$pages" -eq $(($("$program" help | grep -c '^  [a-z]') + both + 1)) ] ||
    { echo "$pages pages do not match the list of help" >&2; exit 1; }

plain() { groff -man -Tascii -P-cbou -rLL=78n "$1" | tr -s ' \n' ' '; }
plain "$scratch/keyhour-key.1" >"$scratch/key.txt"
# Every option of the help stands in the page, with its words.
"$program" key --help | sed -n 's/^  \(--[a-z-]*\) .*/\1/p' | while read -r option; do
    grep -q -e "$option " "$scratch/key.txt" || { echo "keyhour-key(1) lacks $option" >&2; exit 1; }
done
grep -q "only what needs no cover" "$scratch/key.txt"
plain "$scratch/keyhour-location.7" | grep -q "from the floor INSIDE to the clear opening"
plain "$scratch/keyhour-location.7" | grep -q 'wall = "street" left_m = 4.2'
echo "$pages pages are clean"
