# Completion of sipladder-cli for bash. It asks the program itself, so a new verb or option needs nothing here.

_sipladder_cli() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} verbs=() each i
    local program=${COMP_WORDS[0]}
    for ((i = 1; i < COMP_CWORD; ++i)); do
        each=${COMP_WORDS[i]}
        case $each in
            --journal|--content) ((++i)) ;;
            -*) ;;
            *[!a-z-]*) ;;
            *) verbs+=("$each") ;;
        esac
        [ ${#verbs[@]} -ge 2 ] && break
    done
    case $before in
        --paper) COMPREPLY=($(compgen -W "a4 letter" -- "$word")); return ;;
        --task) COMPREPLY=($(compgen -W "3-afc 2-afc yes-no triangle duo-trio tetrad" -- "$word")); return ;;
        --out) COMPREPLY=($(compgen -d -- "$word")); return ;;
    esac
    # Only `journal` and `content` have verbs of their own.
    case ${verbs[0]:-} in journal|content) ;; *) verbs=("${verbs[@]:0:1}") ;; esac
    local help
    help=$("$program" "${verbs[@]}" --help 2>/dev/null) || return
    local words
    words=$(printf '%s\n' "$help" | awk '
        /^Subcommands:/ { sub_verbs = 1; next }
        sub_verbs && /^  [a-z]/ { print $1 }
        /^  (-[a-z],)?--/ { sub(/^-[a-z],/, "", $1); print $1 }')
    COMPREPLY=($(compgen -W "$words" -- "$word"))
    # Where no option is being typed, a file may be meant.
    if [[ $word != -* && ${#verbs[@]} -gt 0 ]]; then COMPREPLY+=($(compgen -f -- "$word")); fi
}
complete -o filenames -F _sipladder_cli sipladder-cli
