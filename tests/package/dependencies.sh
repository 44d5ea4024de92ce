#!/usr/bin/env bash
# The table of other people's parts, held to what is installed: each library that a build or test asks for is in
# it, in the version and under the licence that Debian names.  dependencies.sh SOURCE_FOLDER
set -euo pipefail
source=$1
command -v dpkg-query >/dev/null || {
    echo "skipped: no dpkg-query, so no Debian" >&2
    [ -z "${CI:-}" ] || exit 1
    exit 77
}
table=$source/src/packaging/dependencies.md
failed=0
complain() {
    echo "src/packaging/dependencies.md: $*" >&2
    failed=1
}

for package in $(grep -hE '^(lib|nlohmann).*-dev$|^catch2$|^tzdata$' "$source/.ci/packages" "$source/.ci/packages-test"); do
    grep -q "^| $package |" "$table" || complain "$package is missing"
done
rows=0
while IFS='|' read -r _ package version licence _; do
    package=${package// /} version=${version// /} licence=${licence# } licence=${licence% }
    rows=$((rows + 1))
    installed=$(dpkg-query -W -f '${Version}' "$package" 2>/dev/null) ||
        { complain "$package is not installed"; continue; }
    # Time zones are newer with every update of Debian's; the others stay as long as Debian 12 does.
    [[ $package == tzdata || $installed == "$version"[-+.~]* || $installed == *:"$version"[-+.~]* ]] ||
        complain "$package is $installed, the table says $version"
    # boost's headers carry their licence in the package that has them.
    [ "$package" != libboost-dev ] || package=libboost1.74-dev
    said=/usr/share/doc/$package/copyright
    # A copyright file of the old kind names no licence: there Expat's own words are looked for.
    if ! grep -q '^Format:' "$said" && [ "$licence" = Expat ]; then
        tr '\n' ' ' <"$said" | grep -q "granted, free of charge.* to deal in the Software without restriction" && continue
    fi
    grep -qiE "^License: *${licence%-1.0}" "$said" ||
        complain "$package: Debian's copyright file has no \"License: $licence\""
done < <(grep '^| [a-z0-9-]* | [0-9]' "$table")
[ "$rows" -ge 15 ] || complain "only $rows rows were understood"
exit $failed
