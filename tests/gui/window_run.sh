#!/bin/bash
# One whole run of the window by keys alone, from an empty journal to a threshold: name, cautions, plan, mix, twelve
# blind presentations with rests cut short, then the palate. After a reading is typed at the bench the program is killed:
# started again it must know the reading, so that it stands in the mix that is kept then. Between the lock and the reveal of the fourth the program
# is killed (SIGKILL): started again it must offer to go on there, with nothing lost. Waits for what the title of the window says.
# Usage: window_run.sh path/to/sipladder path/to/content
set -euo pipefail
program=$1
content=$2

source "$(dirname "$0")/window_keys.sh"
on_a_display 1280x800 "$@"
in_a_folder
journal=$folder/run.sipladder
options=(--scale 1)
wait_for_fact() {
    # Not piped into grep -q, which may end before all is written.
    for _ in $(seq 100); do grep -q "$1" <<<"$(facts)" && return 0; sleep 0.05; done
    echo "the journal lacks $1" >&2
    exit 1
}

start "Sipladder: start"
press ctrl+Return; wait_for "who tastes?"
type_text "Ana"
press Return;      wait_for "cautions"
press ctrl+Return; wait_for_plan
# Past strength, its bounds, cup, tasters, water and kitchen to the first reading.
for _ in $(seq 7); do press Tab; sleep 0.3; done
type_text "1"
wait_for_fact '"reading":"1"'
planned=$(grep -o 'weigh in [0-9.]* g' <<<"$(facts)" | sed -n '1s/[^0-9.]//gp')
showed=$(python3 -c 'import sys; print(f"{float(sys.argv[1]) + 0.03:.2f}")' "$planned")
press BackSpace
type_text "${showed/./,}"
wait_for_fact "\"reading\":\"${showed/./,}\""
kill_and_start_again "Sipladder: Prepare"
wait_for_plan
press ctrl+Return; wait_for "Sipladder: Taste"
grep -q "\"showed\":$(python3 -c 'import sys; print(float(sys.argv[1]))' "$showed")" <<<"$(facts)" || { echo "the reading typed before the kill is not in the mix" >&2; exit 1; }
press ctrl+Return; wait_for "before the first"
press space;       wait_for "Presentation 1 of 12, pour"
press space
for number in $(seq 12); do
    wait_for "Presentation $number of 12, answer"
    press $((number % 3 + 1)); press g; press Return
    wait_for "Presentation $number of 12, look beneath"
    if [ "$number" = 4 ]; then
        kill_and_start_again "Sipladder: Taste"
        press ctrl+Return
        wait_for "Presentation 4 of 12, look beneath"
    fi
    press 2; press Return
    [ "$number" = 12 ] && break
    wait_for "Presentation $number of 12, rest"
    press space; wait_for "rest, poured"
    press c
done
wait_for "Taste, done"
press ctrl+Return; wait_for "Sipladder: Palate"
press ctrl+p
kill $window_process
wait $window_process 2>/dev/null || true

# A line of a log could tell a level, so there is none.
# The day has its copy, begun with the program.
[ -s "$journal-copies/$(date +%F).sipladder" ] || { echo "there is no copy of today" >&2; exit 1; }
[ -s "$folder/said" ] && { echo "the program said:" >&2; cat "$folder/said" >&2; exit 1; }

python3 - "$journal" <<'PYTHON'
import sqlite3, sys
rows = sqlite3.connect(f"file:{sys.argv[1]}?mode=ro", uri=True).execute("SELECT kind, count(*) FROM entry GROUP BY kind")
found = dict(rows)
print("rows of the drill by kind:", found)
wanted = {"lock": 12, "reveal": 12, "rest_cut": 11, "finished": 1}
sys.exit(0 if found == wanted else f"wanted {wanted}")
PYTHON
