# What every chapter uses. Sourced by demo/run.sh, which sets tedge, photos, book, out and, in the first chapter, picture.

say() { printf '%s\n' "$*"; }
indented() { sed 's/^/     /'; }

# field NAME: that field of the JSON answer on standard input.
field() { jq -r ".$1"; }

# ask ARGUMENTS: runs tedge and prints its JSON answer; where it refuses, the demo ends with its sentence.
ask() {
    local answer
    answer="$("$tedge" "$@" --json)" || {
        jq -r '.error | "\(.message) \(.next)"' <<< "$answer" >&2
        exit 1
    }
    printf '%s\n' "$answer"
}

# refused KIND VALUES: an act that a gate is to refuse; prints the gate's sentence, and ends the demo where none does.
refused() {
    local answer
    if answer="$("$tedge" record add "$book" "$picture" "$1" "$2" --json)"; then
        say "The gate let through what it was to refuse." >&2
        exit 1
    fi
    jq -r '.error | "Refused: \(.message) \(.next)"' <<< "$answer" | indented
}

# record KIND VALUES: adds a record and prints its id.
record() { ask record add "$book" "$picture" "$1" "$2" | field id; }
note() { record "$@" > /dev/null; }
change() { ask record change "$book" "$1" "$2" > /dev/null; }

# person NAME ROLE
person() { ask person add "$book" --name "$1" --role "$2" | field id; }

# photograph FILE FACE LIGHT WHEN [more options]: takes it in and prints its id.
photograph() {
    local file="$1" face="$2" light="$3" when="$4"
    shift 4
    ask photograph add "$book" "$picture" "$photos/$file" --face "$face" --light "$light" --when "$when" \
        --photographer "Pella Dunmarrow" --licence "rights with the house" "$@" | field id
}

truth() { jq -c "$1" "$photos/truth.json"; }
# region FILTER: an outline of the truth as a GeoJSON polygon in mm.
region() { truth "$1 | {type: \"Polygon\", coordinates: [(.outline_mm + [.outline_mm[0]])]}"; }
corners() { truth ".photographs[] | select(.file == \"$1\") | .face_corners_px" | tr -d '[]'; }
place() { ask photograph place "$book" "$1" --corners "$(corners "$2")" | jq -r '"Placed by its corners, to \(.error_mm * 100 | round / 100) mm."'; }

# register ID NAME: lays a photograph over the reference and says how well that went.
register() {
    "$tedge" photograph register "$book" "$1" --reference "$reference" 2>&1 | sed "s/^/     $2: /"
}
# frame FACE: the id of the newest frame of that face.
frame() { ask face list "$book" "$picture" | jq -r "[.frames[] | select(.face == \"$1\")][-1].id"; }
# pounds NUMBER: an amount as a record holds it.
pounds() { jq -nc --argjson amount "$1" '{minor: ($amount * 100 | round), currency: "GBP"}'; }
