#!/bin/bash
# A class of PEOPLE from an empty journal, by keys alone: roster, plan, sheets, every ballot, results, reports. Looks at
# what the journal holds at the end, and prints the time from key to screen of each step.
# Usage: window_class.sh [--people N] [--pictures DIR] [--size WxH] [--scale X] [--dark] PROGRAM CONTENT
set -euo pipefail
people=24 pictures= size=1280x800 scale=1 look=paper
words=("$@")
while [ $# -gt 2 ]; do
    case $1 in
        --people) people=$2; shift 2 ;;
        --pictures) pictures=$2; shift 2 ;;
        --size) size=$2; shift 2 ;;
        --scale) scale=$2; shift 2 ;;
        --dark) look=dark; shift ;;
        *) echo "usage: window_class.sh [--people N] [--pictures DIR] [--size WxH] [--scale X] [--dark] PROGRAM CONTENT" >&2; exit 2 ;;
    esac
done
program=$(realpath "$1") content=$(realpath "$2")
source "$(dirname "$0")/window_keys.sh"
on_a_display "$size" "${words[@]}"
in_a_folder $look "$scale"
journal=$folder/class.sipladder
options=(--scale "$scale")
start "Sipladder: start"
fail() { echo "$*" >&2; cat "$folder/said" >&2; exit 1; }

picture() {
    [ -n "$pictures" ] || return 0
    mkdir -p "$pictures"; sleep 0.4; import -window "$window" "$pictures/$1.png"
}
rows() { python3 -c 'import sqlite3, sys; print(sqlite3.connect(f"file:{sys.argv[1]}?mode=ro", uri=True).execute("SELECT count(*) FROM fact WHERE kind = ?", (sys.argv[2],)).fetchone()[0])' "$journal" "$1"; }
wait_for_rows() {
    for _ in $(seq 1500); do [ "$(rows "$1")" -ge "$2" ] && return; sleep 0.02; done
    fail "waited for $2 rows of $1, there are $(rows "$1")"
}
wait_for_file() { for _ in $(seq 1500); do [ -n "$(find "$folder" -name "$1")" ] && return; sleep 0.02; done; fail "$1 was not written"; }
told() { printf '%-34s %6d ms\n' "$1" "$2"; }

wait_for_end "start"; picture 01_start
press ctrl+5; wait_for_end "Class"; picture 02_classes
type_text "Evening class"; press Return; wait_for_end "Class, Roster"
type_text "$people"; press Return; wait_for_rows class_member "$people"; picture 03_roster
press F8; wait_for_rows class_member $((2 * people)); picture 03_roster_asked
press ctrl+Return; wait_for_end "Class, Plan"; picture 04_plan
press ctrl+Return; wait_for_end "Class, Sheets"; told "design kept, recipe worked out" "$took"; picture 05_sheets
start=$(date +%s%N); press ctrl+Return; wait_for_file class.json; wait_for_end "Class, Sheets"
told "all sheets written" $((($(date +%s%N) - start) / 1000000)); picture 06_sheets_written
sheets=$(dirname "$(find "$folder" -name ballots.pdf)")
press F7; wait_for_end "Class, Entry"; picture 07_entry

# What is typed: ranks beneath the codes of each tray from left to right, and any choice for single cups.
pdftotext -layout "$sheets/tray_maps.pdf" "$folder/trays"
start=$(date +%s%N)
python3 - "$folder/trays" "$people" >"$folder/keys" <<'PYTHON'
import re, sys
people = int(sys.argv[2])
drill, trays = None, {}
for line in open(sys.argv[1], encoding="utf-8"):
    if (head := re.match(r"\s*(In order|What is it|Grade)", line)):
        drill = head.group(1)
    elif drill and (row := re.match(r"\s*(\d+)\s+((?:\d{3}|\|)(?:\s+(?:\d{3}|\|))*)\s*$", line)):
        codes = re.findall(r"\d{3}", row.group(2))
        trays[drill, int(row.group(1))] = codes
for seat in range(1, people + 1):
    order = trays["In order", seat]
    keys = "".join(str((i - seat % 2) % len(order) + 1) for i in range(len(order)))
    keys += "".join(str(1 + (seat + i) % 3) for i in range(len(trays["What is it", seat])))
    keys += "".join(str(1 + (seat + i) % 4) for i in range(len(trays["Grade", seat])))
    print(keys)
PYTHON
lines=$(awk '{ total += length($0) } END { print total }' "$folder/keys")
done_seats=0
while read -r keys; do
    xdotool type --window "$window" --delay 4 "$keys"
    done_seats=$((done_seats + 1))
    [ "$done_seats" = 3 ] && { sleep 0.5; picture 08_entry_under_way; }
done <"$folder/keys"
wait_for_end "Class, Entry, typed in"
told "$lines keys of $people ballots" $((($(date +%s%N) - start) / 1000000)); picture 09_entry_done
press F7
wait_for_end "Class, Results"; told "results counted" "$took"; picture 10_results
press Next; picture 11_results_further
start=$(date +%s%N); press ctrl+Return; wait_for_file personal_pages.pdf; wait_for_file ballots.csv
told "reports written" $((($(date +%s%N) - start) / 1000000))
press F6; wait_for_end "Class, Entry, typed in"; press ctrl+Return; wait_for_end "Class, Entry"; picture 12_second_pass
press 1; sleep 0.3; picture 13_second_pass_typed
kill "$window_process"; wait "$window_process" 2>/dev/null || true
[ -s "$folder/said" ] && fail "the program said something"

python3 - "$journal" "$people" <<'PYTHON'
import sqlite3, sys
found = dict(sqlite3.connect(f"file:{sys.argv[1]}?mode=ro", uri=True).execute("SELECT kind, count(*) FROM fact GROUP BY kind"))
people = int(sys.argv[2])
print("rows of the class by kind:", found)
sys.exit(0 if found["class_kept"] == 1 and found["class_member"] == 2 * people and found["class_ballot"] >= 15 * people else "rows are missing")
PYTHON
if [ -n "$pictures" ]; then cp "$sheets"/*.pdf "$(dirname "$(find "$folder" -name class_report.pdf)")"/*.pdf "$pictures/"; fi
