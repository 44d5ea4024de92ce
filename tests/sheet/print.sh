#!/usr/bin/env bash
# Printing where no browser is at hand, and an end in the middle of it: print.sh PROGRAM LOCATIONS.
# Exit 77, with the reason, where librsvg's or poppler's programs are missing; with CI set a failure.
set -euo pipefail
program=$1 locations=$2
for needed in rsvg-convert pdfinfo pdftotext; do
    command -v "$needed" >/dev/null && continue
    echo "skipped: no $needed (Debian: librsvg2-bin, poppler-utils)" >&2
    [ -z "${CI:-}" ] || exit 1
    exit 77
done

folder=$(mktemp -d)
# A child that a signal ends before it has become the program runs this trap as well: only the script itself tidies up.
trap '[ "$BASHPID" != "$$" ] || rm -r "$folder"' EXIT
fail() {
    echo "$1" >&2
    exit 1
}

# Waits until a child of this script has become the program (or has ended).
runs() {
    local shell
    shell=$(readlink "/proc/$$/exe")
    while [ "$(readlink "/proc/$1/exe" || true)" = "$shell" ]; do sleep 0.005; done
}

# PATH holds the drawings' printer alone.
mkdir "$folder/bin" "$folder/temporary"
ln -s "$(command -v rsvg-convert)" "$folder/bin/rsvg-convert"
PATH="$folder/bin" TMPDIR="$folder/temporary" "$program" sheet "$locations/tallow-lane.toml" \
    --date 2026-02-14 --out "$folder/out" --pdf >/dev/null 2>"$folder/said"
grep -q "holds the drawings alone" "$folder/said" || fail "it is not said: $(cat "$folder/said")"
info=$(pdfinfo "$folder/out/sheet.pdf")
drawings=$(find "$folder/out" -name '*.svg' | wc -l)
grep -Eq "^Pages: +$drawings$" <<<"$info" || fail "not a page for each of $drawings drawings: $info"
grep -q "(A4)" <<<"$info" || fail "not on A4: $info"
text=$(pdftotext "$folder/out/sheet.pdf" -)
for words in "Tallow Lane Press" "type case" "at full size"; do
    grep -q "$words" <<<"$text" || fail "the PDF does not say: $words"
done

# Told to stop while a browser runs, the program ends it, tidies up and ends by the signal.
cat >"$folder/bin/chromium" <<'SCRIPT'
#!/bin/sh
echo $$ >"$TMPDIR/browser-runs"
exec /bin/sleep 60
SCRIPT
chmod +x "$folder/bin/chromium"
PATH="$folder/bin" TMPDIR="$folder/temporary" "$program" sheet "$locations/tallow-lane.toml" \
    --date 2026-02-14 --only page --out "$folder/out" --pdf >/dev/null 2>&1 &
printing=$!
for _ in $(seq 300); do
    [ ! -s "$folder/temporary/browser-runs" ] || break
    sleep 0.1
done
kill -TERM "$printing"
code=0
wait "$printing" || code=$?
[ "$code" = 143 ] || fail "it ends with $code, not by the signal (143)"
! kill -0 "$(cat "$folder/temporary/browser-runs")" 2>/dev/null || fail "the browser still runs"
rm "$folder/temporary/browser-runs"
[ -z "$(ls -A "$folder/temporary")" ] || fail "left behind: $(ls "$folder/temporary")"
# Told to stop at any moment of its work on many dates, it leaves nothing half-written.
stopped=0
for moment in 0.02 0.1 0.3 0.6 1; do
    rm -rf "$folder/stopped"
    mkdir "$folder/stopped"
    "$program" sheet "$locations/tallow-lane.toml" --from 2026-01-01 --to 2026-01-31 --out "$folder/stopped" >/dev/null 2>&1 &
    writing=$!
    runs "$writing"
    sleep "$moment"
    kill -TERM "$writing" 2>/dev/null || true  # it may be done already
    code=0
    wait "$writing" || code=$?
    [ "$code" = 143 ] || [ "$code" = 0 ] || fail "while it works it ends with $code, not by the signal (143)"
    [ "$code" = 0 ] || stopped=$((stopped + 1))
    half=$(find "$folder/stopped" -name '*.part')
    [ -z "$half" ] || fail "left half-written: $half"
done
[ "$stopped" -gt 0 ] || fail "it was done before it could be stopped"
# A pipe among its files is in the way: told before anything is written.
mkdir "$folder/piped"
mkfifo "$folder/piped/strip.svg"
code=0
"$program" sheet "$locations/tallow-lane.toml" --date 2026-02-14 --out "$folder/piped" >/dev/null 2>&1 || code=$?
[ "$code" = 1 ] || fail "with a pipe in the way it ends with $code (1)"
[ "$(ls -A "$folder/piped")" = strip.svg ] || fail "left beside: $(ls -A "$folder/piped")"
echo "$drawings drawings on A4"
