#!/bin/bash
# What is installed beside the programs agrees with them: man pages, completion, desktop entry.
# Usage: packaging.sh path/to/sipladder-cli path/to/source
set -euo pipefail
program=$1
source=$2
fail() { echo "$*" >&2; exit 1; }

verbs=$("$program" --help | awk '/^Subcommands:/ { on = 1; next } on && /^  [a-z]/ { print $1 }' | sort)
[ "$(wc -l <<<"$verbs")" -ge 16 ] || fail "the program tells fewer verbs than it had: $verbs"
paged=$(awk '/^\.SH VERBS/ { on = 1; next } /^\.SH/ { on = 0 } on && /^\.B / { gsub(/\\/, "", $2); print $2 }' \
    "$source/tools/packaging/sipladder-cli.1" | sort)
diff <(echo "$verbs") <(echo "$paged") || fail "the man page tells other verbs than the program"
for option in journal content demo scale help version; do
    grep -q "\\\\-\\\\-$option" "$source/tools/packaging/sipladder.1" || fail "sipladder.1 lacks --$option"
done

# shellcheck source=/dev/null
source "$source/tools/packaging/sipladder-cli.bash"
completed() { COMP_WORDS=("$program" "$@"); COMP_CWORD=$#; COMPREPLY=(); _sipladder_cli; printf '%s\n' "${COMPREPLY[@]}"; }
offered=$(completed "")
for verb in $verbs; do grep -qx -- "$verb" <<<"$offered" || fail "completion lacks $verb"; done
[ "$(completed fi)" = fit ] || fail "fi is completed to $(completed fi)"
[ "$(completed fit --ta)" = --task ] || fail "fit --ta is completed to $(completed fit --ta)"
[ "$(completed journal che)" = check ] || fail "journal che is completed to $(completed journal che)"
[ "$(completed sheets --paper l)" = letter ] || fail "--paper l is completed to $(completed sheets --paper l)"

desktop-file-validate "$source/gui/data/sipladder.desktop"
