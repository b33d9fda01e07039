#!/usr/bin/env bash
# The whole job on the invented picture: packages, build, photographs, and from an empty casebook to the dossiers, as
# demo/scenario/scenario.md tells it, chapter by chapter.
# demo/run.sh [FOLDER]: where the casebook and the dossiers go (build/demo unless said otherwise).
source "$(dirname "${BASH_SOURCE[0]}")/../src/cmake/set_up.sh"

build_in release "tedge tedge_painter tackingedge" -DCMAKE_BUILD_TYPE=Release
tedge="$project/build/release/bin/tedge"
out="${1:-$project/build/demo}"
photos="$out/photographs"
book="$out/casebook"
mkdir -p "$out"
export TEDGE_AUTHOR="Hesper Vane-Larkin"

if [ ! -f "$photos/truth.json" ] || [ "$project/build/release/bin/tedge_painter" -nt "$photos/truth.json" ]; then
    echo "Painting the photographs (about a minute) …"
    "$project/build/release/bin/tedge_painter" --out "$photos" > "$out/painter.log"
fi
rm -rf "$book" "$out/dossier" "$out/cards"

source "$project/demo/chapters/helpers.sh"
for chapter in "$project"/demo/chapters/[1-9]_*.sh; do source "$chapter"; done

say "Casebook: $book"
say "Dossiers: $out/dossier"
if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
    exec "$project/build/release/bin/tackingedge" --by "Hesper Vane-Larkin" "$book"
fi
