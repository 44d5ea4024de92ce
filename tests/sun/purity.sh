#!/bin/sh
# The objects of sun and light ask for no heap, no exceptions and no writable memory of their own.
# Usage: purity.sh OBJECT... (those outside the folders "sun" and "light" are passed over)
set -eu
sun=0
light=0
for object in "$@"; do
    case $object in
    */sun/*) sun=$((sun + 1)) ;;
    */light/*) light=$((light + 1)) ;;
    *) continue ;;
    esac
    if nm -uC "$object" | grep -E 'operator new|operator delete|malloc|calloc|realloc|__cxa_|_Unwind|__gxx_personality'; then
        echo "$object: asks for the heap or for exceptions" >&2
        exit 1
    fi
    # b, d: data that can change, in the object's own scope or shared (B, D).
    if nm -C "$object" | grep -E '^[0-9a-f]+ [bBdD] '; then
        echo "$object: keeps data that can change" >&2
        exit 1
    fi
done
if [ "$sun" -lt 10 ] || [ "$light" -lt 8 ]; then
    echo "only $sun objects of the sun and $light of the light were given: some are missing" >&2
    exit 1
fi
