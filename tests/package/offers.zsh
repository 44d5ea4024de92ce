# What zsh offers for a line: zsh -f offers.zsh FOLDER_OF_FUNCTIONS LINE. One a line.
# zsh completes on a terminal alone, so a second shell is typed into on a pseudo terminal. Every function of
# completion hands its matches to compadd: there they are written into a file (with -O, -A or -D it only
# sorts matches out).
zmodload zsh/zpty || exit 1
offered=$(mktemp)
zpty -b shell zsh -f -i
zpty -w shell "PROMPT= RPROMPT= offered=$offered; unsetopt zle_bracketed_paste 2>/dev/null; fpath=(${(q)1} \$fpath)"
zpty -w shell 'autoload -Uz compinit; compinit -u -D
compadd() {
    if (( ! ${@[(I)-[OAD]]} )); then
        local -a found
        builtin compadd -O found "$@"
        print -rl -- $found >>$offered
    fi
    builtin compadd "$@"
}
finish() { print done >$offered.done; exit }
zle -C offer complete-word _main_complete
zle -N finish
bindkey "^I" offer
bindkey "^X" finish'
sleep 0.2
zpty -w -n shell "$2"$'\t\x18'
repeat 300; do
    [[ -e $offered.done ]] && break
    zpty -r -t shell said '*' >/dev/null 2>&1
    sleep 0.1
done
sort -u $offered
rm -f $offered $offered.done
zpty -d shell
