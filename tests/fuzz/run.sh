#!/usr/bin/env bash
# Runs every fuzzer of a build for some seconds, from its seeds: run.sh BUILD_FOLDER [SECONDS]
# What is found stands in BUILD_FOLDER/fuzz/NAME; inputs that open new ways are kept there, too.
set -euo pipefail
build=$1 seconds=${2:-10}
here=$(cd "$(dirname "$0")" && pwd)
for fuzzer in "$build"/tests/fuzz/fuzz_*; do
    [ -x "$fuzzer" ] && [ -f "$fuzzer" ] || continue
    name=$(basename "$fuzzer")
    name=${name#fuzz_}
    mkdir -p "$build/fuzz/$name/seeds"
    echo "== $name"
    "$fuzzer" -max_total_time="$seconds" -timeout=10 -rss_limit_mb=4096 -verbosity=0 \
        -print_final_stats=1 -artifact_prefix="$build/fuzz/$name/" \
        "$build/fuzz/$name/seeds" "$here/seeds/$name" $([ "$name" = location_toml ] && echo "$here/../../locations")
done
