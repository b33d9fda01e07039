#!/usr/bin/env bash
# The screenshots of the guide: the demo's casebook at the desk, saved into docs/screenshots (or the folder named).
# demo/screenshots.sh [FOLDER]; every scene at every size, to look at: demo/screenshots.sh --all FOLDER
source "$(dirname "${BASH_SOURCE[0]}")/../src/cmake/set_up.sh"

all=no
if [ "${1:-}" = --all ]; then all=yes; shift; fi
out="${1:-$project/docs/screenshots}"
book="${TEDGE_DEMO_BOOK:-$project/build/demo/casebook}"
photographs="${book%/*}/photographs"
[ -d "$book" ] || DISPLAY='' WAYLAND_DISPLAY='' bash "$project/demo/run.sh"
build_in release "tedge tackingedge" -DCMAKE_BUILD_TYPE=Release
export QT_QPA_PLATFORM=offscreen
# A copy of the book in which two people wrote different things, a text names what a buyer may not read and the lot has
# its terms, for the dialogs and refusals that come of it.
make_contested() {
    local tedge="$project/build/release/bin/tedge" other="$1-other" case finding lot
    rm -rf "$1" "$other"
    cp -a "$book" "$1"
    "$tedge" casebook create "$other"
    "$tedge" casebook merge "$other" --from "$1"
    case="$("$tedge" case list "$1" --json | jq -r '.cases[0].id')"
    finding="$("$tedge" case show "$1" "$case" --json | jq -r 'first(.records[] | select(.fields.term == "blanching")).id')"
    "$tedge" record change "$1" "$finding" '{"severity": "moderate", "text": "Milky from damp, more of it than the lamp showed."}' --by "Hesper Vane-Larkin"
    "$tedge" record change "$other" "$finding" '{"severity": "slight", "text": "Milky from damp; thin, gone where it is wetted."}' --by "Odalind Marsh-Pettifer"
    "$tedge" casebook merge "$1" --from "$other"
    lot="$("$tedge" case show "$1" "$case" --json | jq -r 'first(.records[] | select(.kind == "lot")).id')"
    "$tedge" record change "$1" "$lot" '{"terms/premium": [{"up_to": 500000, "percent": 25}, {"percent": 20}]}' --by "Hesper Vane-Larkin"
    "$tedge" record change "$1" "$case" '{"distinguishing": "Signed at the lower edge; told to Tobit Crake at the viewing."}' --by "Hesper Vane-Larkin"
    rm -rf "$other"
}
# shoot SIZE FOLDER [options]
shoot() { local size="$1" folder="$2"; shift 2
    "$project/build/release/bin/tackingedge" --by "Hesper Vane-Larkin" --screenshots "$folder" --size "$size" "$@" "$book"; }

if [ "$all" = yes ]; then
    contested="$(mktemp -d)"
    trap 'rm -rf "$contested"' EXIT
    make_contested "$contested/book" > "$contested/log"
    for size in 1440x900 1024x640 900x600; do
        for shade in "" --dark; do
            shoot "$size" "$out/$size" $shade --photographs "$photographs"
            book="$contested/book" shoot "$size" "$out/$size" $shade --only settling,passing-gate-22,other-currency
        done
    done
else
    shoot 1440x900 "$out" --only survey,half-and-half,compare-crack,dossier-pages,house-pictures,sale-cards
    shoot 1024x640 "$out" --dark --only trials
fi
echo "Screenshots: $out"
