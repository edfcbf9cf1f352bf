#!/bin/sh
# Without a display the window says so, points to the terminal program, and ends with exit code 1.
# Usage: no_display.sh path/to/sipladder path/to/content
set -eu
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
code=0
said=$(env -u DISPLAY -u WAYLAND_DISPLAY "$1" --journal "$folder/run.sipladder" --content "$2" 2>&1) || code=$?
echo "exit $code: $said"
[ $code = 1 ]
case "$said" in *"sipladder-cli demo"*) ;; *) exit 1 ;; esac
