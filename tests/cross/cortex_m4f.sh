#!/usr/bin/env bash
# The C library on a microcontroller: built for a Cortex-M4F, run in an emulator, its figures those of this
# machine, its sizes as promised.
#   cortex_m4f.sh SOURCE_FOLDER FIGURES_PROGRAM
set -euo pipefail
source=$1 figures=$2
for program in arm-none-eabi-g++ qemu-system-arm; do
    command -v $program >/dev/null && continue
    echo "$program is not installed" >&2
    [ -n "${CI:-}" ] && exit 1 || exit 77
done
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cmake -S "$source" -B "$scratch" -G Ninja --toolchain "$source/src/cross/cortex-m4f.cmake" \
    -DCMAKE_BUILD_TYPE=MinSizeRel -DKEYHOUR_BOARD=ON >"$scratch/configure.log" ||
    { cat "$scratch/configure.log" >&2; exit 1; }
cmake --build "$scratch" >"$scratch/build.log" || { cat "$scratch/build.log" >&2; exit 1; }
cd "$scratch/src/cross/board"

fail() { echo "$1" >&2; exit 1; }
# Sun and light ask for no heap, no exceptions and no memory of their own; nor does anything in the image.
for part in libkeyhour_sun.a libkeyhour_light.a libkeyhour_c.a libkeyhour_room.a image image_single; do
    if arm-none-eabi-nm -uC $part | grep -E 'operator new|operator delete|malloc|free$|_sbrk|__throw|__cxa|_Unwind'; then
        fail "$part asks for the heap or for exceptions"
    fi
done
arm-none-eabi-nm -C image | grep -E 'operator new|malloc|_sbrk|__cxa_throw' && fail "the image has a heap"

# Merged, so that what two files share counts once.
bytes_of() { arm-none-eabi-size "$@" | awk 'NR == 2 { print $1, $2 + $3 }'; }
at_most() { # WHAT BYTES LIMIT
    echo "$1: $2 bytes of $3"
    [ "$2" -le "$3" ] || fail "$1: $2 bytes, more than $3"
}
for part in "sun 40000 0" "light 30000 0"; do
    read -r name code memory <<<"$part"
    arm-none-eabi-ld -r --whole-archive libkeyhour_$name.a -o $name.o
    read -r flash ram < <(bytes_of $name.o)
    at_most "$name: code and tables" "$flash" "$code"
    at_most "$name: memory" "$ram" "$memory"
done

# IMAGE LENGTHS SECONDS: how far its figures may be from this machine's.
run() {
    # A nanosecond an instruction, so the board's 25 MHz tick every 40.
    timeout 120 qemu-system-arm -M mps2-an386 -icount shift=0 -nographic -semihosting-config enable=on,target=native \
        -kernel "$1" </dev/null >said 2>&1 || fail "$1 ended with status $?: $(tail -3 said)"
    local flash ram stack
    read -r flash ram < <(bytes_of "$1")
    stack=$(sed -n 's/^# stack //p' said)
    at_most "$1, the day's key: flash" "$flash" 200000
    at_most "$1, the day's key: memory, with 24 kB for the room and $stack bytes of stack" $((ram + stack)) 65536
    echo "$1, all figures: $(($(sed -n 's/^# ticks //p' said) * 40 / 1000000)) million instructions"
    grep -v '^#' said | "$figures" - "$2" "$3"
}
# Lengths, angles and shares within 1e-9; a double counts seconds since 1970 by 2.4e-7.
run image 1e-9 1e-6
# In single precision within a hundredth of a millimetre or of a thousandth of a degree, and half a second.
run image_single 1e-5 0.5
