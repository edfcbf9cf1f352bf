# What the scripts of the window share: to start it, to press keys, and to wait for what its title says. Sourced, with
# program, content, folder, journal and options set.

title() { xdotool getwindowname "$window" 2>/dev/null || true; }
# wait_for "part of a title": at most 20 s
wait_for() {
    for _ in $(seq 400); do
        case "$(title)" in *"$1"*) return 0 ;; esac
        sleep 0.05
    done
    echo "waited for \"$1\", the title is \"$(title)\"" >&2
    exit 1
}
# A plan is asked for only once the key has been seen.
wait_for_plan() {
    sleep 0.6
    wait_for "Sipladder: Prepare"
    for _ in $(seq 400); do [ "$(title)" = "Sipladder: Prepare" ] && break; sleep 0.05; done
}
press() { xdotool key --window 0 "$@"; }
# A field that has just got the focus takes what is typed two frames later; a loaded machine draws slowly.
type_text() { sleep 1; xdotool type --delay 100 "$1"; }

# start "part of the first title"
start() {
    "$program" --journal "$journal" --content "$content" "${options[@]}" >>"$folder/said" 2>&1 &
    window_process=$!
    for _ in $(seq 400); do
        window=$(xdotool search --class sipladder 2>/dev/null | tail -n 1 || true)
        [ -n "$window" ] && break
        kill -0 $window_process || { echo "the program has ended, and said:" >&2; cat "$folder/said" >&2; exit 1; }
        sleep 0.05
    done
    wait_for "$1"
    # Without a window manager nothing fits it to the screen.
    xdotool windowmove "$window" 0 0 windowsize "$window" $(xdotool getdisplaygeometry)
    # A window that is not on the screen yet cannot have the focus: keys would go nowhere.
    for _ in $(seq 100); do
        xdotool windowfocus "$window" 2>/dev/null || true
        [ "$(xdotool getwindowfocus 2>/dev/null)" = "$window" ] && return 0
        sleep 0.05
    done
}
# kill_and_start_again "part of the first title"
kill_and_start_again() {
    kill -KILL $window_process
    wait $window_process 2>/dev/null || true
    for _ in $(seq 100); do xdotool search --class sipladder >/dev/null 2>&1 || break; sleep 0.05; done
    start "$1"
}
facts() { python3 -c 'import sqlite3, sys
for body in sqlite3.connect(f"file:{sys.argv[1]}?mode=ro", uri=True).execute("SELECT body FROM fact"): print(*body)' "$journal"; }
