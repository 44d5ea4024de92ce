#!/usr/bin/env bash
# Fetches the sources of the libraries that a static or a cross-compiled program is built from, as Debian packs
# them, without touching the system's own lists of packages. Needs apt, dpkg-dev and the network.
#   sources.sh FOLDER
set -euo pipefail
[ $# -eq 1 ] || { echo "usage: sources.sh FOLDER, which is made" >&2; exit 2; }
mkdir -p "$1" && cd "$1"
packages=(howardhinnant-date geographiclib libpolyclipping)

have() { compgen -G "$1-*/" >/dev/null; }
missing=()
for package in "${packages[@]}"; do have "$package" || missing+=("$package"); done
[ ${#missing[@]} -gt 0 ] || exit 0

eval "$(apt-config shell PARTS Dir::Etc::sourceparts/d)"
mkdir -p apt/lists/partial apt/cache/archives/partial
# The first entry of Debian's list, with sources beside programs.
sed -e '/^$/q' -e 's/^Types: deb$/Types: deb deb-src/' "$PARTS/debian.sources" > apt/all.sources
own=(-o "Dir::Etc::sourcelist=$PWD/apt/all.sources" -o Dir::Etc::sourceparts=-
     -o "Dir::State::lists=$PWD/apt/lists" -o "Dir::Cache=$PWD/apt/cache")
apt-get "${own[@]}" update -qq
apt-get "${own[@]}" source -qq "${missing[@]}"
