#!/bin/bash
# The Palate by keys alone, in the demo: each of the six tabs, a row opened and closed, its charts and the report kept as
# files, and what is advised made into a prepared form. Waits for what the title of the window says.
# Usage: window_palate.sh path/to/sipladder path/to/content [folder for pictures]
set -euo pipefail
program=$1
content=$2
pictures=${3:-}

source "$(dirname "$0")/window_keys.sh"
on_a_display "${SIPLADDER_SCREEN:-1280x800}" "$@"
in_a_folder "${SIPLADDER_LOOK:-paper}" "${SIPLADDER_SCALE:-1}"
journal=$folder/run.sipladder
options=(--demo --scale "${SIPLADDER_SCALE:-1}")
picture() {
    [ -z "$pictures" ] && return 0
    sleep 0.4
    import -window root "$pictures/$1.png"
}
wait_for_files() {  # wait_for_files ending number
    for _ in $(seq 100); do
        [ "$(find "$folder" -name "*.$1" | wc -l)" -ge "$2" ] && return 0
        sleep 0.05
    done
    echo "waited for $2 files *.$1" >&2
    exit 1
}

start "Palate, How little?"
if [ -n "${SIPLADDER_SIZE:-}" ]; then xdotool windowmove "$window" 0 0 windowsize "$window" ${SIPLADDER_SIZE/x/ }; sleep 0.5; fi
tabs=("How little?" "How different?" "Which one?" "How strong?" "Where?" "How long?")
for number in 1 2 3 4 5 6; do
    press $number;  wait_for "Palate, ${tabs[$((number - 1))]}"
    picture "tab_$number"
    if [ -n "$pictures" ]; then press Next; picture "tab_${number}_lower"; press Next; picture "tab_${number}_lowest"; fi
    press a;        wait_for "Palate, ${tabs[$((number - 1))]} one row"
    picture "row_$number"
    if [ -n "$pictures" ]; then press Next; picture "row_${number}_lower"; press Next; picture "row_${number}_lowest"; fi
    press Escape
    for _ in $(seq 100); do case "$(title)" in *"one row"*) sleep 0.05 ;; *) break ;; esac; done
done
press 1;            wait_for "Palate, How little?"
press ctrl+p;       wait_for_files pdf 1
press Escape
press a;            wait_for "one row"
press ctrl+p;       wait_for_files png 1; wait_for_files svg 1; wait_for_files pdf 2
press Escape; sleep 0.2; press Escape
for _ in $(seq 100); do case "$(title)" in *"one row"*) sleep 0.05 ;; *) break ;; esac; done
press 7;            wait_for "Prepare"
picture prepared
[ -z "$pictures" ] || cp "$(find "$folder" -name 'palate_2*.pdf' | head -n 1)" "$pictures/"
kill $window_process
wait $window_process 2>/dev/null || true
[ -s "$folder/said" ] && { echo "the program said:" >&2; cat "$folder/said" >&2; exit 1; }
exit 0
