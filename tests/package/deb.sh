#!/usr/bin/env bash
# The packages that CPack makes of a build: they say what they need, hold what they should and none of the build's
# paths, and the program in one answers beside its manual and completions.
#   deb.sh BUILD_FOLDER SOURCE_FOLDER
# Exit 77, with the reason, where dpkg's programs are missing; with CI set that is a failure.
set -euo pipefail
build=$1 source=$2
here=$(cd "$(dirname "$0")" && pwd)
for tool in dpkg-deb dpkg-shlibdeps; do
    command -v $tool >/dev/null || {
        echo "skipped: $tool is not installed (dpkg-dev)" >&2
        [ -z "${CI:-}" ] || exit 1
        exit 77
    }
done
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
fail() {
    echo "$*" >&2
    exit 1
}

# The time that files in a package carry; a packager gives that of the change log.
export SOURCE_DATE_EPOCH=${SOURCE_DATE_EPOCH:-1795867200}
(cd "$build" && cpack -G DEB -B "$scratch/made") >"$scratch/cpack.log" 2>&1 || { cat "$scratch/cpack.log" >&2; exit 1; }
program=$(echo "$scratch"/made/keyhour_*.deb) library=$(echo "$scratch"/made/libkeyhour-dev_*.deb)
root=$scratch/root
dpkg-deb -x "$program" "$root"
dpkg-deb -x "$library" "$scratch/library"

# What it needs was found in the program itself; what it says of itself is there.
depends=$(dpkg-deb -f "$program" Depends)
for needed in libc6 libstdc++6 libpolyclipping libfmt libgeographiclib; do
    [[ $depends == *$needed* ]] || fail "the package does not depend on $needed: $depends"
done
[ "$(dpkg-deb -f "$program" Version)" = "$("$root/usr/bin/keyhour" --version | cut -d ' ' -f 2)" ] ||
    fail "the package's version is not the program's"
for file in share/doc/keyhour/copyright share/doc/keyhour/changelog.gz share/keyhour/locations/tallow-lane.toml \
    share/keyhour/wmm2025/wmm2025.wmm.cof; do
    [ -s "$root/usr/$file" ] || fail "$file is not in the package"
done
grep -q "^ *libcli11-dev [0-9.]*, BSD-3-clause" "$root/usr/share/doc/keyhour/copyright" ||
    fail "the copyright file does not list the parts of others"
[ -s "$scratch/library/usr/lib/cmake/keyhour/keyhourConfig.cmake" ] ||
    [ -n "$(find "$scratch/library" -name keyhourConfig.cmake)" ] || fail "the library has no CMake package"
if found=$(grep -rlF -e "$build" -e "$source/" "$root" "$scratch/library"); then
    fail "a path of the build is in: $found"
fi

# It answers, from places that it brought along.
"$root/usr/bin/keyhour" key "$root/usr/share/keyhour/locations/tallow-lane.toml" --date 2026-02-17 >"$scratch/key"
grep -q "type case" "$scratch/key"
# A page for each command and topic, packed; man(1) finds them by their folder.
pages=$(find "$root/usr/share/man" -name 'keyhour*.[17].gz' | wc -l)
both=$(find "$root/usr/share/man" -name "keyhour-*.gz" -printf "%f\n" | sed "s/\.[17]\.gz$//" | sort | uniq -d | wc -l)
[ "$pages" -eq $(($("$root/usr/bin/keyhour" help | grep -c "^  [a-z]") + both + 1)) ] || fail "$pages pages"
gzip -dc "$root/usr/share/man/man1/keyhour-key.1.gz" >"$scratch/key.1"
groff -man -Tascii -z -ww "$scratch/key.1"
! command -v man >/dev/null || [ -n "$(man -M "$root/usr/share/man" -w keyhour-key)" ]
for place in bash:bash-completion/completions/keyhour zsh:zsh/vendor-completions/_keyhour \
    fish:fish/vendor_completions.d/keyhour.fish; do
    script=$root/usr/share/${place#*:}
    "$root/usr/bin/keyhour" help --completion "${place%%:*}" | cmp - "$script"
done
"$here/completions.sh" "$root/usr/bin/keyhour" bash "$root/usr/share/bash-completion/completions/keyhour"
echo "$(basename "$program"): $(stat -c %s "$program") bytes; depends on $depends"
