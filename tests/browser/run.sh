#!/usr/bin/env bash
# Runs the browser tests: run.sh PROGRAM LOCATIONS FOLDER [pocket|figures], where FOLDER is for npm's modules
# and the pages; of the light sheet's page, of the pocket page, or (by hand) that page's times and memory.
# Exit 77, with the reason, where something is missing; with CI set that is a failure.
set -euo pipefail
program=$1 locations=$2 folder=$3
here=$(cd "$(dirname "$0")" && pwd)

missing() {
    echo "browser tests skipped: $1" >&2
    [ -z "${CI:-}" ] || exit 1
    exit 77
}

command -v node >/dev/null || missing "node is absent (Debian: nodejs)"
command -v npm >/dev/null || missing "npm is absent (Debian: npm)"
command -v chromium >/dev/null || missing "chromium is absent (Debian: chromium)"

mkdir -p "$folder/pages"
if ! cmp -s "$here/package-lock.json" "$folder/installed-lock.json"; then
    cp "$here/package.json" "$here/package-lock.json" "$folder"
    npm ci --prefix "$folder" --ignore-scripts --no-audit --no-fund >"$folder/npm.log" 2>&1 ||
        missing "npm could not install playwright-core and axe-core: $(tail -n 3 "$folder/npm.log")"
    cp "$here/package-lock.json" "$folder/installed-lock.json"
fi

export NODE_PATH="$folder/node_modules" KEYHOUR_PROGRAM="$program" KEYHOUR_LOCATIONS="$locations"
export KEYHOUR_PAGES="$folder/pages" KEYHOUR_CHROMIUM="$(command -v chromium)"
if [ "${4:-}" = figures ]; then
    exec node "$here/pocket/figures.js"
fi
if [ "${4:-}" = pocket ]; then
    # The library as WebAssembly is a build of its own, of minutes.
    if ! "$program" pocket -o "$folder/pages/probe.html" --force >/dev/null 2>"$folder/pocket.log"; then
        node --test "$here"/pocket/location.test.js
        echo "the pocket page is left out: $(cat "$folder/pocket.log")" >&2
        exit 77
    fi
    exec node --test "$here"/pocket/*.test.js
fi
exec node --test "$here"/*.test.js
