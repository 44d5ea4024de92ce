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

"$program" sheet "$folder/a.toml" --from 2026-02-12 --to 2026-02-16 --out "$folder/first" >/dev/null
"$program" sheet "$folder/a.toml" --from 2026-02-12 --to 2026-02-16 --out "$folder/again" >/dev/null
cmp "$folder/first/sheet.ics" "$folder/again/sheet.ics"
"$program" sheet "$folder/a.toml" --from 2026-02-12 --to 2026-02-16 --out "$folder/again" >/dev/null
cmp "$folder/first/sheet.ics" "$folder/again/sheet.ics"
"$program" sheet "$folder/b.toml" --from 2026-02-12 --to 2026-02-16 --out "$folder/again" >/dev/null
"$program" key "$folder/a.toml" --from 2026-02-12 --to 2026-02-16 --json >"$folder/key.json"
"$python" "$here/read_files.py" "$folder"
