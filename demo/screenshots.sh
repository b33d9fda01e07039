#!/usr/bin/env bash
# The screenshots of the guide: the demo's casebook at the desk, saved into docs/screenshots (or the folder named).
# demo/screenshots.sh [FOLDER]; every scene at every size, to look at: demo/screenshots.sh --all FOLDER
source "$(dirname "${BASH_SOURCE[0]}")/../src/cmake/set_up.sh"

all=no
if [ "${1:-}" = --all ]; then all=yes; shift; fi
out="${1:-$project/docs/screenshots}"
book="${TEDGE_DEMO_BOOK:-$project/build/demo/casebook}"
[ -d "$book" ] || DISPLAY='' WAYLAND_DISPLAY='' bash "$project/demo/run.sh"
build_in release "tackingedge" -DCMAKE_BUILD_TYPE=Release
export QT_QPA_PLATFORM=offscreen
# shoot SIZE FOLDER [options]
shoot() { local size="$1" folder="$2"; shift 2
    "$project/build/release/bin/tackingedge" --by "Hesper Vane-Larkin" --screenshots "$folder" --size "$size" "$@" "$book"; }

if [ "$all" = yes ]; then
    for size in 1440x900 1024x640 900x600; do
        shoot "$size" "$out/$size"
        shoot "$size" "$out/$size" --dark
    done
else
    shoot 1440x900 "$out" --only survey,half-and-half,dossier-pages
    shoot 1024x640 "$out" --dark --only trials
fi
echo "Screenshots: $out"
