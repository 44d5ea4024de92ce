#!/usr/bin/env bash
# The completions in the hands of their shells: completions.sh PROGRAM SHELL [SCRIPT]
# The script is the program's own unless one is given, such as a packaged one.
# Exit 77, with the reason, where the shell is missing; with CI set that is a failure.
set -euo pipefail
program=$(readlink -f "$1") shell=$2 given=${3:-}
here=$(cd "$(dirname "$0")" && pwd)
command -v "$shell" >/dev/null || {
    echo "skipped: $shell is not installed" >&2
    [ -z "${CI:-}" ] || exit 1
    exit 77
}
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
mkdir "$scratch/bin" "$scratch/work" "$scratch/functions"
ln -s "$program" "$scratch/bin/keyhour"
export PATH=$scratch/bin:$PATH HOME=$scratch
if [ -n "$given" ]; then
    cp "$given" "$scratch/functions/_keyhour"
else
    keyhour help --completion "$shell" >"$scratch/functions/_keyhour"
fi
cd "$scratch/work"
touch shop.toml

# What the shell offers for a line that is typed so far; its last word may be empty.
offers_bash() {
    # shellcheck disable=SC2016
    bash --norc -c '
        source "$1"
        complete -p keyhour >/dev/null   # known to the shell
        read -ra COMP_WORDS <<<"$2"
        [[ $2 != *" " ]] || COMP_WORDS+=("")
        COMP_CWORD=$((${#COMP_WORDS[@]} - 1)) COMP_LINE=$2 COMP_POINT=${#2}
        _keyhour keyhour "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD-1]}"
        [ ${#COMPREPLY[@]} -eq 0 ] || printf "%s\n" "${COMPREPLY[@]}"' bash "$scratch/functions/_keyhour" "$1"
}
offers_fish() {
    fish --no-config -c 'source $argv[1]; complete -C $argv[2]' "$scratch/functions/_keyhour" "$1" | cut -f 1
}
offers_zsh() {
    zsh -f "$here/offers.zsh" "$scratch/functions" "$1"
}

failed=0
type_in() { # what is offered for the line
    typed=$1
    offers_"$shell" "$typed" >"$scratch/offered"
}
complain() {
    echo "$shell: after \"$typed\" $1; offered: $(tr '\n' ' ' <"$scratch/offered")" >&2
    failed=1
}
has() {
    for word; do
        grep -qxF -e "$word" "$scratch/offered" || complain "$word is missing"
    done
}
lacks() {
    ! grep -qxF -e "$1" "$scratch/offered" || complain "$1 has no place"
}

# Every command stands after the program's name, and every option of one after it.
commands=$(keyhour help | sed -n '/^Commands/,$s/^  \([a-z]\+\) .*/\1/p')
[ "$(wc -w <<<"$commands")" -ge 10 ]
type_in "keyhour "
# shellcheck disable=SC2086
has $commands
type_in "keyhour k"
has key
lacks lock
options=$(keyhour key --help | sed -n 's/^  \(--[a-z-]\+\).*/\1/p' | grep -vx -e --help)
[ "$(wc -w <<<"$options")" -ge 10 ]
type_in "keyhour key --"
# shellcheck disable=SC2086
has $options
type_in "keyhour day --"
has --date
lacks --by
# A location file is a file; "help" is followed by topics and commands.
type_in "keyhour key sh"
has shop.toml
type_in "keyhour help d"
has day doubt
lacks shop.toml
exit $failed
