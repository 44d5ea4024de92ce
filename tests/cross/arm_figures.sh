#!/usr/bin/env bash
# The core on the processors of small boards: compiled for ARM of 64 and of 32 bits, run in an emulator without a
# system of theirs, its figures those of this machine.
#   arm_figures.sh SOURCE_FOLDER FIGURES_PROGRAM
set -euo pipefail
source=$(realpath "$1") figures=$2
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT

on() { # TRIPLET EMULATOR
    local triplet=$1 emulator=$2 made=$scratch/$1
    for program in "$triplet-g++" "$emulator"; do
        command -v "$program" >/dev/null && continue
        echo "$program is not installed" >&2
        [ -n "${CI:-}" ] && exit 1 || exit 77
    done
    mkdir "$made"
    local flags=(-O2 -Wall -Wextra -Wno-psabi -ffp-contract=off -I"$source/include" -I"$source/tests/c")
    "$triplet-gcc" -std=c99 "${flags[@]}" -c "$source/tests/c/figures.c" -o "$made/figures.o"
    "$triplet-gcc" -std=c99 "${flags[@]}" -c "$source/tests/c/example_room.c" -o "$made/example_room.o"
    for part in sun c room; do
        local files=("$source/src/$part"/*.cpp)
        [ $part != room ] || files=("$source"/src/room/{convex,opening_maker,plan_turn}.cpp)
        printf '#include "%s"\n' "${files[@]}" |
            "$triplet-g++" -std=c++20 "${flags[@]}" -fno-exceptions -fno-rtti -x c++ -c - -o "$made/$part.o"
    done
    "$triplet-g++" -static "$made"/*.o -o "$made/figures"
    env -i "$(command -v "$emulator")" "$made/figures" >"$made/said"
    echo "$triplet: $(diff <("$figures") "$made/said" | grep -c '^<' || true) of $(wc -l <"$made/said") figures differ in a bit"
    "$figures" - 1e-12 1e-6 <"$made/said"
}
on aarch64-linux-gnu qemu-aarch64-static
on arm-linux-gnueabihf qemu-arm-static
