say "5  20 April to 7 May. Lining is refused until the back is read; lined, and how the canvas moved is measured."
lining="$(jq -nc --arg by "$liner" '{act: "lining", materials: "linen, wheat flour and animal glue paste", text: "Lined on fine linen and stretched on a new keyed stretcher.", owner_agreed: true,
  alternatives: "Strip-lining; the tear and the slack canvas spoke against it.", test_strip: "Peeled evenly after three days.", old_kept_where: "Strainer and label kept with the picture, rack 3.",
  done_on: "2025-05-06", done_by: $by}')"
refused structure_step "$lining"
for ((i = 0; i < $(truth '.verso.marks | length'); ++i)); do
    note inscription "$(jq -nc --arg on "$verso_frame" --arg photo "$verso" --argjson region "$(region ".verso.marks[$i]")" --argjson mark "$(truth ".verso.marks[$i] | {name, text}")" \
      '{face_frame: $on, region: $region, photograph: $photo, transcription: $mark.text, reading: "certain",
        kind: ({inscription: "inscription", stamp: "stamp", label: "label", chalk: "chalk-mark"}[$mark.name] // "inscription"),
        meaning: ({inscription: "Title, painter, year and a number, on the canvas itself.", stamp: "Colourman of the canvas.", label: "An owner and her number; lifted and kept with the strainer.", chalk: "Lot number of the sale."}[$mark.name] // "")}')"
done
note inscription "$(jq -nc --arg on "$recto_frame" --argjson region "$(region '.recto.signature')" '{face_frame: $on, region: $region, kind: "signature", transcription: "E. Quillfeather 1847", reading: "probable", meaning: "Lies under the varnish and over no crack."}')"
custody "the liner's workshop, Port Ambling" "$liner" 2025-05-02 2025-05-07 "signed on 2 May" "Flat, face up; never rolled"
note structure_step "$lining"

lined="$(photograph lined.jpg recto normal lined --caption "After lining, on its new stretcher")"
place "$lined" lined.jpg > /dev/null
register "$lined" lined
lined_frame="$(frame recto)"
# Held against the truth that the painted photographs come with: the same spots of the canvas, before and after.
spots="$(truth '[.photographs[] | select(.file == "lined.jpg") | .points[] | select(.face_mm[0] > 15 and .face_mm[0] < 595 and .face_mm[1] > 15 and .face_mm[1] < 445)]')"
now="$(ask face map "$book" "$recto_frame" "$lined_frame" --points "$(jq -r '[.[] | "\(.face_mm[0]),\(.face_mm[1])"] | join(";")' <<< "$spots")")"
jq -nr --argjson spots "$spots" --argjson now "$now" '[range($spots | length) as $i
    | (($spots[$i].face_now_mm[0] - $now.points[$i][0]) as $x | ($spots[$i].face_now_mm[1] - $now.points[$i][1]) as $y | ($x * $x + $y * $y) | sqrt)] |
    "The measured move against the true one at \(length) spots: \(add / length * 100 | round / 100) mm off on average, \(max * 100 | round / 100) mm at most.",
    (if max > 0.2 then error("the canvas was found too far from where it is") else empty end)' | indented
custody "the studio, Port Ambling" "$restorer" 2025-05-07 2025-06-12 "signed on 7 May" "Upright, in a travelling frame"
