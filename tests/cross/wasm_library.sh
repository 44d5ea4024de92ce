#!/usr/bin/env bash
# The whole library as WebAssembly, run by node: asked what a page asks, it replies as this machine's own library.
#   wasm_library.sh SOURCE_FOLDER POCKET_ANSWER_PROGRAM
# It takes what "cmake --preset wasm-library" has built, as that costs minutes of processor.
set -euo pipefail
source=$1 native=$2
here=$(cd "$(dirname "$0")" && pwd)
library=$source/build/wasm-library/keyhour.wasm
[ -e "$library" ] || { echo "$library is not built: cmake --preset wasm-library" >&2; exit 77; }
command -v node >/dev/null || { echo "node is not installed" >&2; [ -n "${CI:-}" ] && exit 1 || exit 77; }
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
{ "$native" zones; "$native" questions "$source"/locations/*.toml; } >"$scratch/requests"
"$native" <"$scratch/requests" >"$scratch/native"
node "$here/ask_library.mjs" "$library" <"$scratch/requests" >"$scratch/wasm"
node "$here/same_replies.mjs" "$scratch/native" "$scratch/wasm"
packed=$(stat -c %s "$library.gz")
echo "keyhour.wasm: $(stat -c %s "$library") bytes, packed $packed of 1700000"
[ "$packed" -le 1700000 ]
