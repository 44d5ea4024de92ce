#!/usr/bin/env bash
# The C library as WebAssembly: built by clang, run by node without a page, its figures those of this machine.
#   wasm.sh SOURCE_FOLDER FIGURES_PROGRAM
set -euo pipefail
source=$1 figures=$2
here=$(cd "$(dirname "$0")" && pwd)
for program in clang++-19 wasm-ld-19 node; do
    command -v $program >/dev/null && continue
    echo "$program is not installed" >&2
    [ -n "${CI:-}" ] && exit 1 || exit 77
done
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cmake -S "$source" -B "$scratch" -G Ninja --toolchain "$source/src/cross/wasm.cmake" \
    -DCMAKE_BUILD_TYPE=MinSizeRel -DKEYHOUR_WASM=ON >"$scratch/configure.log" ||
    { cat "$scratch/configure.log" >&2; exit 1; }
cmake --build "$scratch" >"$scratch/build.log" || { cat "$scratch/build.log" >&2; exit 1; }
cd "$scratch/src/cross/wasm"
node "$here/say_figures.mjs" figures.wasm keyhour.wasm >said
size=$(stat -c %s keyhour.wasm)
echo "keyhour.wasm: $size bytes of 150000, $(gzip -9 -c keyhour.wasm | wc -c) packed"
[ "$size" -le 150000 ]
# Sine, cosine and square root of the core are its own; a last bit of another library's arctangent is left.
echo "to the last bit as here: $(diff <("$figures") said | grep -c '^<' || true) of $(wc -l <said) are not"
"$figures" - 1e-12 1e-6 <said
