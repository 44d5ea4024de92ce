#!/usr/bin/env bash
# The package on a Debian that holds nothing else: a root of its own, made from the mirror that this machine's apt has,
# the package and what it needs installed there by apt, and one answer asked of it. As root; needs debootstrap and the
# network, about two minutes and 400 MB, so no test of every change.
#   clean_root.sh BUILD_FOLDER
set -euo pipefail
[ $# -eq 1 ] || { echo "usage: clean_root.sh BUILD_FOLDER" >&2; exit 2; }
build=$(realpath "$1")
command -v debootstrap >/dev/null || { echo "NOT RUN: debootstrap is not installed" >&2; exit 77; }
[ "$(id -u)" = 0 ] || { echo "NOT RUN: only root may make a root" >&2; exit 77; }

scratch=$(mktemp -d)
root=$scratch/root
trap 'rm -rf --one-file-system "$scratch"' EXIT
mirror=$(apt-get indextargets --format '$(SITE) $(RELEASE) $(COMPONENT)' 'Created-By: Packages' |
    awk '$2 == "bookworm" && $3 == "main" { print $1; exit }')
[ -n "$mirror" ] || { echo "NOT RUN: apt has no mirror of bookworm" >&2; exit 77; }

export SOURCE_DATE_EPOCH=${SOURCE_DATE_EPOCH:-$(git -C "$(dirname "$0")" log -1 --format=%ct)}
(cd "$build" && cpack -G DEB -B "$scratch/made") >"$scratch/cpack.log" 2>&1 || { cat "$scratch/cpack.log" >&2; exit 1; }
debootstrap --variant=minbase bookworm "$root" "$mirror" >"$scratch/debootstrap.log" ||
    { tail -20 "$scratch/debootstrap.log" >&2; exit 1; }
in_root() { env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin DEBIAN_FRONTEND=noninteractive LC_ALL=C chroot "$root" "$@"; }
package=$(basename "$scratch"/made/keyhour_*.deb)
cp "$scratch/made/$package" "$root/"
before=$(in_root dpkg-query -W | wc -l)
in_root apt-get install -y --no-install-recommends "/$package" >"$scratch/install.log" 2>&1 ||
    { tail -20 "$scratch/install.log" >&2; exit 1; }
echo "$package into a root of $before packages, with $(($(in_root dpkg-query -W | wc -l) - before - 1)) that it needs"

place=/usr/share/keyhour/locations/tallow-lane.toml
in_root keyhour --version
in_root keyhour key $place --date 2026-02-17 | tee "$scratch/there"
[ -z "$(in_root dpkg --audit)" ]
# What it says there is what the build says here.
"$build/keyhour" key "$root$place" --date 2026-02-17 >"$scratch/here"
cmp "$scratch/here" "$scratch/there"
in_root apt-get purge -y keyhour >"$scratch/purge.log" 2>&1
if left=$(in_root find / -xdev -name '*keyhour*' ! -name "$package" | grep .); then
    echo "left behind when it was removed: $left" >&2
    exit 1
fi
echo "installed, asked and removed"
