#!/bin/bash
# Drills in the window by keys alone, each from an empty journal: the drill is picked, its mix planned and kept, and it is
# tasted to its finding. Then the journal must hold a drill of that kind and blinding that was finished.
# Usage: window_drills.sh [--pictures FOLDER] [--size 1280x800] [--scale 1] [--dark] PROGRAM CONTENT CASE…
# Cases: detection ascending quick_look recognition difference nose tray_check, each -alone or -helper (tray_check-alone
# only); every programme of content/programmes.json, as written, and four of them -alone; all.
set -euo pipefail
pictures= size=1280x800 scale=1 look=paper
words=("$@")
while [ $# -gt 0 ]; do
    case "$1" in
        --pictures) pictures=$2; shift 2 ;;
        --size) size=$2; shift 2 ;;
        --scale) scale=$2; shift 2 ;;
        --dark) look=dark; shift ;;
        *) break ;;
    esac
done
program=$1 content=$2
shift 2

source "$(dirname "$0")/window_keys.sh"
on_a_display "$size" "${words[@]}"

programmes=$(python3 -c 'import json, sys
print(*(one["id"] for one in json.load(open(sys.argv[1] + "/programmes.json"))["programmes"]))' "$content")
every="detection-alone detection-helper ascending-alone ascending-helper quick_look-alone quick_look-helper
recognition-alone recognition-helper difference-alone difference-helper nose-alone nose-helper tray_check-alone
$programmes first_evening-alone acid_and_sugar-alone calibrate_my_words-alone palate_check-alone"
[ "${1:-all}" = all ] && set -- $every
in_a_folder
options=(--scale "$scale")

taken=0
picture() {  # "what it shows"
    [ -n "$pictures" ] || return 0
    taken=$((taken + 1))
    sleep 0.4
    import -window root "$pictures/$(printf '%s_%02d_%s' "$case" "$taken" "$1").png"
}
times() { for _ in $(seq "$1"); do press "$2"; sleep 0.12; done; }
place_of() {  # word, list: its place from 0
    local at=0
    for one in $2; do [ "$one" = "$1" ] && echo $at && return; at=$((at + 1)); done
    echo "there is no case $1" >&2
    exit 1
}

prepare() {
    local what=${case%-*} who=written
    case "$case" in *-alone) who=alone ;; *-helper) who=helper ;; esac
    local drills="detection ascending quick_look recognition difference nose tray_check"
    case " $drills " in
        *" $what "*)
            local line; line=$(place_of "$what" "$drills")
            times "$line" Down
            press space; wait_for_plan
            picture prepare
            if [ "$who" = helper ]; then
                # Past programmes, ladders of recognition, substances, ingredient (vinegar has two rows), strength,
                # rungs and strip; so many rows at 1280 x 800.
                local more=0
                case "$what" in recognition) more=2 ;; nose) more=1 ;; esac
                times $((14 - line + more)) Down
                press Right; sleep 0.2; press space; wait_for_plan
            fi ;;
        *)
            # Five in a row, as wide as they are at 1280 x 800.
            times 7 Down
            local number; number=$(place_of "$what" "$programmes")
            times $((number / 5)) Down
            times $((number % 5)) Right
            press space; wait_for_plan
            picture prepare
            if [ "$who" = alone ]; then
                times 5 Down
                press Right; sleep 0.2; press space; wait_for_plan
            fi ;;
    esac
    picture prepare_served
    [ -z "$pictures" ] || { times 8 Next; picture prepare_end; }
    press ctrl+Return; wait_for "Sipladder: Taste"
}

answer() {  # with what this kind of drill asks for
    local keys="$((RANDOM % 2 + 1)) g"
    case "$kind" in
        ranking|weight) keys="1 2 3 4 5" ;;
        scaling) keys="Right $((RANDOM % 3 + 1))" ;;
        balance) keys="$((RANDOM % 3 + 1)) Right" ;;
        mouth_map) keys="$((RANDOM % 3 + 2)) a c Right" ;;
        persistence) keys="space WAIT space" ;;
    esac
    for key in $keys; do
        if [ "$key" = WAIT ]; then sleep 1; [ -z "$pictures" ] || [ "${watched:-}" = yes ] || { picture watch; watched=yes; }
        else press "$key"; sleep 0.12; fi
    done
    [ "$answered" -gt 0 ] || picture answered
    answered=$((answered + 1))
}

act() {  # one key after what the title asks for
    case "$(title)" in
        *", rest"*) press c ;;
        *"before the first"*|*", pour") press space ;;
        *", answer"*) answer; press Return ;;
        *Key*) press "${marks:$mark:1}"; sleep 0.1; press Return ;;
        *", look beneath"*) press $((RANDOM % 2 + 1)); sleep 0.1; press Return ;;
    esac
}

taste() {
    local answered=0 seen="" mark=0 same=0 before now phase patience
    local marks=bdefghjkmnpqrstuvwxyz  # of bottles; b is the base
    picture start
    press ctrl+Return
    wait_for "before the first"
    while :; do
        before=$(title)
        case "$before" in
            *"Taste, done"*) picture done; return ;;
            *Key*) phase=key ;;
            *", rest"*) phase=rest ;;
            *": before"*) phase=before ;;
            *) phase=${before##*, } ;;
        esac
        case " $seen " in *" $phase "*) ;; *) picture "${phase// /_}"; seen="$seen $phase" ;; esac
        act
        patience=40; [ "$phase" = key ] && patience=8
        now=$before
        for _ in $(seq "$patience"); do now=$(title); [ "$now" != "$before" ] && break; sleep 0.05; done
        if [ "$now" = "$before" ]; then
            # No such bottle, or more cups are said to hold it than were poured: it was another mark.
            same=$((same + 1)); mark=$(((mark + 1) % ${#marks}))
            [ "$same" -gt 60 ] && { echo "$case stays at \"$now\"" >&2; exit 1; }
        else
            same=0
        fi
    done
}

for case in "$@"; do
    taken=0
    rm -rf "${folder:?}"/*
    journal=$folder/run.sipladder
    settings $look "$scale"
    start "Sipladder: start"
    press ctrl+Return; wait_for "who tastes?"
    type_text "Ana"
    press Return;      wait_for "cautions"
    press ctrl+Return; wait_for_plan
    sleep 0.3
    prepare
    kinds=$(python3 - "$journal" <<'PYTHON'
import json, sqlite3, sys
rows = sqlite3.connect(f"file:{sys.argv[1]}?mode=ro", uri=True).execute("SELECT body FROM fact WHERE kind = 'sitting_plan'")
print(*(one["kind"] for one in json.loads(rows.fetchone()[0])["drills"]))
PYTHON
)
    wanted=$(wc -w <<<"$kinds")
    number=0
    for kind in $kinds; do
        number=$((number + 1))
        taste
        [ "$number" = "$wanted" ] && break
        press ctrl+Return; wait_for "Sipladder: Taste"
        for _ in $(seq 100); do [ "$(title)" = "Sipladder: Taste" ] && break; sleep 0.05; done
    done
    kill $window_process
    wait $window_process 2>/dev/null || true
    for _ in $(seq 100); do xdotool search --class sipladder >/dev/null 2>&1 || break; sleep 0.05; done
    # A line of a log could tell a level, so there is none; nor any file but the journal, its copies and settings.
    [ -s "$folder/said" ] && { echo "$case: the program said:" >&2; cat "$folder/said" >&2; exit 1; }
    find "$folder" -type f -printf '%f\n' | grep -Ev '^(run\.sipladder.*|[0-9-]+\.sipladder|window|said)$' && exit 1
    python3 - "$journal" "$case" <<'PYTHON'
import json, sqlite3, sys
journal, case = sys.argv[1:]
ask = sqlite3.connect(f"file:{journal}?mode=ro", uri=True).execute
planned = json.loads(ask("SELECT body FROM fact WHERE kind = 'sitting_plan'").fetchone()[0])["drills"]
done = [(kind, json.loads(body)["blinding"]) for kind, body in ask("SELECT kind, body FROM drill ORDER BY rowid")]
finished = ask("SELECT count(*) FROM entry WHERE kind = 'finished'").fetchone()[0]
wanted = [(one["kind"], one["blinding"]) for one in planned]
print(f"{case}: {', '.join(kind + ' ' + blinding for kind, blinding in done)}")
kind = case.rsplit("-", 1)[0]
planned_alone = ("detection", "quick_look", "recognition", "difference", "nose")
if kind not in ("ascending", "tray_check") and len(wanted) == 1 and kind != wanted[0][0] and kind in planned_alone:
    sys.exit(f"{case} planned {wanted}")
if "-helper" in case and any(blinding != "served" for _, blinding in wanted):
    sys.exit(f"{case} is not served by a helper: {wanted}")
if "-alone" in case and any(blinding == "served" for _, blinding in wanted):
    sys.exit(f"{case} wants a helper: {wanted}")
sys.exit(0 if done == wanted and finished == len(wanted) else f"{case}: wanted {wanted}, {finished} of them were finished")
PYTHON
done
