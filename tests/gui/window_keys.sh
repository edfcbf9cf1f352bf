# What the scripts of the window share: a display, a folder, to start it, to press keys, and to wait for what its title
# says. Sourced, with program, content, journal and options set.

# on_a_display 1280x800 "$@": the script anew with its own words on a screen of this size, unless it is there already.
on_a_display() {
    local size=$1
    shift
    [ -z "${SIPLADDER_IN_XVFB:-}" ] || return 0
    for needed in Xvfb xdotool python3 ${pictures:+import}; do
        command -v "$needed" >/dev/null || { echo "$needed is missing: tools/setup test brings it" >&2; exit 1; }
    done
    # xvfb-run waits for a signal, which it misses on a busy machine; the server itself says when it is there. Its socket
    # may go with another server that ends at this moment, so what was said is tried, and another number asked for.
    # -noreset: it does not begin anew when its last window is killed, just as the next one comes.
    local said server display code=0
    for _ in 1 2 3 4 5; do
        said=$(mktemp -u)
        mkfifo "$said"
        Xvfb -displayfd 3 -screen 0 "${size}x24" -nolisten tcp -noreset 3>"$said" 2>/dev/null &
        server=$!
        read -r -t 60 display <"$said" || { echo "Xvfb does not start" >&2; kill $server; rm -f "$said"; exit 1; }
        rm -f "$said"
        DISPLAY=":$display" xdotool getdisplaygeometry >/dev/null 2>&1 && break
        kill $server 2>/dev/null || true
        wait $server 2>/dev/null || true
    done
    SIPLADDER_IN_XVFB=1 DISPLAY=":$display" "$0" "$@" || code=$?
    kill $server
    wait $server 2>/dev/null || true
    exit $code
}
# in_a_folder [look [scale]]: all that the program reads and writes lies in $folder, which goes at the end.
in_a_folder() {
    folder=$(mktemp -d)
    window_process=
    trap 'kill $window_process 2>/dev/null || true; rm -rf "$folder"' EXIT
    export LIBGL_ALWAYS_SOFTWARE=1 HOME=$folder XDG_CONFIG_HOME=$folder XDG_DATA_HOME=$folder
    unset SIPLADDER_JOURNAL SIPLADDER_CONTENT
    settings "${1:-paper}" "${2:-1}"
}
# settings look scale: as the window would have kept them.
settings() {
    mkdir -p "$folder/sipladder"
    printf 'look %s\nscale %s\npaper a4\n' "$1" "$2" >"$folder/sipladder/window"
}

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
# wait_for_end "end of a title": at most 60 s; the time it took, in milliseconds, is in $took.
wait_for_end() {
    local begun now
    begun=$(date +%s%N)
    for _ in $(seq 3000); do
        now=$(title); took=$((($(date +%s%N) - begun) / 1000000))
        case $now in *"$1") return 0 ;; esac
        sleep 0.02
    done
    echo "waited for \"$1\" at the end, the title is \"$now\"" >&2
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
