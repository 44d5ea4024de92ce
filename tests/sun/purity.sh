#!/bin/sh
# The sun's objects ask for no heap, no exceptions and no writable memory of their own.
# Usage: purity.sh OBJECT... (those outside a folder "sun" are passed over)
set -eu
checked=0
for object in "$@"; do
    case $object in
    */sun/*) ;;
    *) continue ;;
    esac
    checked=$((checked + 1))
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
if [ "$checked" -lt 10 ]; then
    echo "only $checked objects of the sun were given: what was to be checked is missing" >&2
    exit 1
fi
