#!/bin/sh
# What can be seen from outside of a built program: hardened flags, no network, nothing left behind.
# Usage: binary.sh CLI WINDOW CONTENT
set -eu
cli=$1 window=$2 content=$3
bad=0
complain() { echo "$*" >&2; bad=1; }

for program in "$cli" "$window"; do
    # One table at a time: a pipe that ends early would hide a failure.
    header=$(readelf -hW "$program"); segments=$(readelf -lW "$program"); dynamic=$(readelf -dW "$program")
    symbols=$(nm -D --undefined-only "$program")
    case $header in *"DYN (Position-Independent Executable"*) ;; *) complain "$program: not position-independent" ;; esac
    case $segments in *GNU_RELRO*) ;; *) complain "$program: no RELRO" ;; esac
    case $dynamic in *BIND_NOW*|*"Flags: NOW"*) ;; *) complain "$program: symbols are bound late" ;; esac
    echo "$segments" | grep GNU_STACK | grep -q RWE && complain "$program: its stack can be run"
    case $symbols in *__stack_chk_fail*) ;; *) complain "$program: no stack protector" ;; esac
    case $symbols in *_chk@*) ;; *) complain "$program: built without _FORTIFY_SOURCE" ;; esac
    # No call of its own reaches a network; the window speaks to its display through GLFW.
    for call in socket connect bind listen accept accept4 sendto sendmsg recvfrom recvmsg getaddrinfo gethostbyname res_query; do
        echo "$symbols" | grep -Eq " $call(@|\$)" && complain "$program: calls $call"
    done
    for library in curl ssl crypto nghttp soup ldap resolv nsl; do
        echo "$dynamic" | grep NEEDED | grep -q "lib$library" && complain "$program: links lib$library"
    done
    true
done

# A whole run with no network at hand (where the system lets us take it away), and with a home of its own.
home=$(mktemp -d)
trap 'rm -rf "$home"' EXIT
alone=
unshare -rn true 2>/dev/null && alone="unshare -rn"
mkdir "$home/home" "$home/out"
cd "$home/out"
run() { HOME=$home/home XDG_DATA_HOME= XDG_CONFIG_HOME= XDG_STATE_HOME= XDG_CACHE_HOME=$home/cache SIPLADDER_CONTENT=$content $alone "$cli" "$@"; }
run demo --out demo >/dev/null 2>"$home/said"
[ -s "$home/said" ] && complain "a run that went well says on standard error: $(cat "$home/said")"
for words in "panle x" "journal chek x"; do
    code=0
    run $words 2>"$home/said" || code=$?
    [ $code = 2 ] && grep -q "is no subcommand" "$home/said" || complain "\"$words\" is not called unknown"
done
run journal check demo/demo.sipladder >/dev/null
run journal export --journal demo/demo.sipladder --out all.json >/dev/null
left=$(find "$home/home" -type f)
[ -z "$left" ] || complain "left behind in the home folder: $left"
name=$(sed -n 's/.*"name":"\([^"]*\)".*/\1/p' all.json | head -n 1)
[ -n "$name" ] || complain "the demo's person has no name"
# What is refused is said without names or answers of the record.
run journal strike 00000000-0000-4000-8000-000000000000 --reason x --journal demo/demo.sipladder >/dev/null 2>"$home/said" && complain "an unknown row was struck out"
grep -qF "$name" "$home/said" && complain "a message holds a name"
if find demo/demo.sipladder all.json -perm /077 | grep -q .; then complain "a file of the record can be read by others"; fi
[ -n "$alone" ] && echo "run without a network" || echo "the system does not let a test take the network away: symbols only"
exit $bad
