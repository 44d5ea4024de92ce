#!/usr/bin/env bash
# The light sheet's files as other programs read them: read_files.sh PROGRAM LOCATIONS.
# Exit 77, with the reason, where python3-icalendar is missing; with CI set that is a failure.
set -euo pipefail
program=$1 locations=$2
here=$(cd "$(dirname "$0")" && pwd)

# The first python3 on PATH may be another build, which does not see Debian's packages.
python=
for candidate in /usr/bin/python3 "$(command -v python3 || true)"; do
    if [ -z "$python" ] && [ -x "$candidate" ] && "$candidate" -c 'import icalendar' 2>/dev/null; then
        python=$candidate
    fi
done
if [ -z "$python" ]; then
    echo "skipped: no python3 with icalendar (Debian: python3-icalendar)" >&2
    [ -z "${CI:-}" ] || exit 1
    exit 77
fi

folder=$(mktemp -d)
trap 'rm -r "$folder"' EXIT
# With rigging, and with a name that a spreadsheet would run.
{
    cat "$locations/tallow-lane.toml"
    printf '\n[rigging]\ncrew = 2\ncall = "11:00"\n'
    printf '\n[[task]]\nname = "=HYPERLINK(1), cloth; press window"\nminutes = { 1 = 40, 2 = 25 }\n'
    printf '\n[[task]]\nname = "dress the frame, \\"A\\" side"\nminutes = { 1 = 30 }\n'
} >"$folder/a.toml"
sed 's/faces = 196/faces = 197/' "$folder/a.toml" >"$folder/b.toml"

# The same stamp on every export, so that the same answers give the same bytes.
export SOURCE_DATE_EPOCH=1767323045

"$program" sheet "$folder/a.toml" --from 2026-02-12 --to 2026-02-16 --out "$folder/first" >/dev/null
"$program" sheet "$folder/a.toml" --from 2026-02-12 --to 2026-02-16 --out "$folder/again" >/dev/null
cmp "$folder/first/sheet.ics" "$folder/again/sheet.ics"
"$program" sheet "$folder/a.toml" --from 2026-02-12 --to 2026-02-16 --out "$folder/again" >/dev/null
cmp "$folder/first/sheet.ics" "$folder/again/sheet.ics"
"$program" sheet "$folder/b.toml" --from 2026-02-12 --to 2026-02-16 --out "$folder/again" >/dev/null
"$program" key "$folder/a.toml" --from 2026-02-12 --to 2026-02-16 --json >"$folder/key.json"
"$python" "$here/read_files.py" "$folder"

# Zones with half hours, south of the equator, with clocks that change on the date, and without.
for place in "Australia/Adelaide 2026-04-05 34.93S 138.6E" "Australia/Lord_Howe 2026-10-04 31.55S 159.08E" \
    "Asia/Kathmandu 2026-05-01 27.7N 85.3E" "America/St_Johns 2026-11-01 47.56N 52.71W"; do
    read -r zone date latitude longitude <<<"$place"
    sed -e "s|^position = .*|position = \"$latitude $longitude\"|" \
        -e "s|^time_zone = .*|time_zone = \"$zone\"|" \
        -e 's|"Tallow Lane Press"|"工場, \\"B\\"; двор \\\\ côté nord"|' "$folder/a.toml" >"$folder/zone.toml"
    "$program" sheet "$folder/zone.toml" --date "$date" --only calendar --only spreadsheet \
        --out "$folder/zone" --force >/dev/null
    "$python" "$here/read_zone.py" "$folder/zone" "$zone" "$date"
done

# Names that would steer a page, a drawing, a spreadsheet or a calendar.
sed -e 's|"Tallow Lane Press"|"=1+1</script><hostile onload=x>\\u202e,;:"|' \
    -e 's|"press window"|"+\\u009b]]><hostile>\\"\\u2066"|' \
    -e 's|"type case"|"@\\u2028\&amp;\\ufeff חלון 1"|' "$folder/a.toml" >"$folder/hostile.toml"
"$program" sheet "$folder/hostile.toml" --date 2026-02-14 --out "$folder/hostile" >/dev/null
"$python" "$here/read_hostile.py" "$folder/hostile"
