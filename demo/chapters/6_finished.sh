say "6  15 May to 20 June. Filled, retouched, varnished, framed; what it cost beside what was guessed."
note treatment_step "$(jq -nc --arg by "$restorer" '{act: "filling", materials: "chalk and glue putty", text: "Losses and the tear filled and levelled.", done_on: "2025-05-15", done_by: $by, hours: 6}')"
register "$(photograph filled.jpg recto normal filled --caption "Losses filled with white putty and levelled")" filled
note treatment_step "$(jq -nc --arg by "$restorer" '{act: "isolating-varnish", materials: "hydrocarbon resin 10 % in white spirit, brushed", text: "One coat before retouching.", done_on: "2025-05-17", done_by: $by}')"
note treatment_step "$(jq -nc --arg by "$restorer" '{act: "retouching", materials: "dry pigments in a resin that stays soluble", text: "Fills and abrasion only.", done_on: "2025-06-02", done_by: $by, hours: 18}')"
note treatment_step "$(jq -nc --arg by "$restorer" '{act: "final-varnish", materials: "hydrocarbon resin with light stabiliser in white spirit, sprayed", text: "Two thin coats.", done_on: "2025-06-03", done_by: $by, hours: 2}')"
register "$(photograph varnished.jpg recto normal varnished --caption "Retouched and varnished: finished")" varnished

# What became of the findings, and how the picture leaves the studio.
# told TERM FILTER: the description of every finding of that term, made anew from the one it has.
told() {
    local id text
    while IFS=$'\t' read -r id text; do
        change "$id" "$(jq -nc --arg text "$text" '{text: $text}')"
    done < <(ask case show "$book" "$picture" | jq -r --arg term "$1" ".records[] | select(.kind == \"finding\" and .fields.term == \$term) | [.id, (.fields.text // \"\" | $2)] | @tsv")
}
told loss '"Filled on 15 May, retouched on 2 June 2025."'
told overpaint '. + " Taken off on 18 April 2025; the tear filled on 15 May, retouched on 2 June."'
told blanching '. + " Gone with the varnish on 18 April 2025."'
# surveyed_again FACE SUMMARY
surveyed_again() {
    note survey "$(jq -nc --arg face "$1" --arg by "$restorer" --arg summary "$2" '{surveyed_on: "2025-06-12", surveyor: $by, face: $face, condition: "good", loose_paint: "none-found", summary: $summary}')"
}
surveyed_again recto "Clear, even varnish; flaking laid, losses and tear filled and retouched; age cracks lie flat."
surveyed_again verso "Lined on fine linen, taut on a keyed stretcher; the old back is covered and was photographed."
note picture_frame '{"description": "Gilt composition frame, of about the painting'"'"'s age, mended at two corners; never re-gilt.", "sight_width_mm": 600, "sight_height_mm": 450, "rebate_depth_mm": 14, "outer_width_mm": 742, "outer_height_mm": 592, "outer_depth_mm": 68, "weight_kg": 5.4, "glazing": "none", "backboard": "corrugated board, screwed", "fixings": "four mirror plates, two rings", "protected_material": "no"}'
custody "the gallery, Port Ambling" "$dealer" 2025-06-12 "" "checked in against the photographs of 3 June" ""

# What was paid, beside the estimates that the ceiling was fixed on.
paid=(132 240 860 435 760 190 310)
mapfile -t costs < <(ask case show "$book" "$picture" | jq -r '.records[] | select(.kind == "cost_line") | .id')
for i in "${!costs[@]}"; do change "${costs[$i]}" "{\"actual\": $(pounds "${paid[$i]}"), \"paid_on\": \"2025-06-14\"}"; done
ask case show "$book" "$picture" | jq -r '[.records[] | select(.kind == "cost_line") | .fields] | (.[] | "\(.name): paid GBP \(.actual.minor / 100), guessed \(.estimate.likely / 100)" + (if .estimate.low < .estimate.high then " (\(.estimate.low / 100) to \(.estimate.high / 100))" else "" end)),
  "all work: paid GBP \(map(.actual.minor) | add / 100), guessed \(map(.estimate.likely) | add / 100)"' | indented
