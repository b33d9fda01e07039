say "3  20 to 22 March. Photographed as received, placed in millimetres, surveyed on every face, faced for the road."
reference="$(photograph received-normal.tif recto normal as-received --scale --chart)"
place "$reference" received-normal.tif | indented
change "$reference" '{"taken_at": "2025-03-20T10:40:00"}'   # the copy stand's file says nothing of its day
verso="$(photograph received-verso.jpg verso normal as-received --scale)"
place "$verso" received-verso.jpg > /dev/null
for light in raking ultraviolet infrared; do
    register "$(photograph "received-$light.jpg" recto "$light" as-received)" "$light"
done
recto_frame="$(frame recto)"
verso_frame="$(frame verso)"

# survey FACE VALUES
survey() { note survey "$(jq -c --arg face "$1" --arg by "$restorer" '. + {surveyed_on: "2025-03-21", surveyor: $by, face: $face}' <<< "$2")"; }
survey recto '{"condition": "unstable", "loose_paint": "mapped", "summary": "Yellowed varnish under soot, flaking in two passages, single losses, one mended tear under grey overpaint, age cracks throughout."}'
survey verso '{"condition": "fair", "loose_paint": "none-found", "nail_holes": "recorded", "transmitted_light": "opaque", "summary": "Plain weave, slack; strainer with mitred corners and a middle bar, no keys; one patch; a tideline behind the upper edge."}'
for edge in top right bottom left; do
    survey "edge-$edge" '{"condition": "fair", "nail_holes": "recorded", "summary": "First tacking edge, iron tacks, no selvedge; never taken off its strainer."}'
done
note measurement "$(jq -nc --argjson n "$(truth '.verso.threads_per_cm.warp_upright')" --arg on "$verso_frame" '{what: "thread count, warp (upright)", value: $n, unit: "threads/cm", uncertainty: 0.3, face_frame: $on, note: "counted under the glass over 5 cm at three places"}')"
note measurement "$(jq -nc --argjson n "$(truth '.verso.threads_per_cm.weft_level')" --arg on "$verso_frame" '{what: "thread count, weft (level)", value: $n, unit: "threads/cm", uncertainty: 0.3, face_frame: $on, note: "counted under the glass over 5 cm at three places"}')"

# finding FILTER VALUES: a finding where the truth says, on the recto; prints its id.
finding() { record finding "$(jq -c --arg on "$recto_frame" --argjson region "$(region "$1")" '. + {face_frame: $on, region: $region}' <<< "$2")"; }
flaking=()
for ((i = 0; i < $(truth '.recto.flaking_zones | length'); ++i)); do
    flaking+=("$(finding ".recto.flaking_zones[$i]" '{"layer": "paint", "term": "flaking", "unstable": true, "severity": "severe", "text": "Paint stands up in shells, ground and canvas bare in places."}')")
done
for ((i = 0; i < 8; ++i)); do
    finding "([.recto.losses[]] | sort_by(-.area_mm2))[$i]" '{"layer": "paint", "term": "loss", "severity": "moderate"}' > /dev/null
done
finding '.recto.overpaint' '{"layer": "paint", "term": "overpaint", "severity": "moderate", "text": "Over the mended tear and broader than it, gone grey; dark under the lamp."}' > /dev/null
finding '.recto.blanching' '{"layer": "varnish", "term": "blanching", "severity": "slight", "text": "Milky varnish from damp."}' > /dev/null

for ((i = 0; i < ${#flaking[@]}; ++i)); do
    note facing "$(jq -nc --arg by "$restorer" --arg on "$recto_frame" --argjson region "$(region ".recto.flaking_zones[$i]")" \
      '{face_frame: $on, region: $region, tissue: "Japanese tissue, 9 g/m²", adhesive: "methyl cellulose 2 % in water", tried_there: true, tried_by: $by,
        laid_by: $by, comes_off_with: "cool water", laid_on: "2025-03-21", removed_on: "2025-03-28"}')"
done
photograph faced.jpg recto normal faced --caption "Tissues over the two flaking passages, for the journey" > /dev/null
custody "the studio, Port Ambling" "$restorer" 2025-03-22 2025-05-02 "signed on 22 March" "Flat, face up; tissues on"
say "     ${#flaking[@]} flaking passages mapped and faced, six faces surveyed, threads counted."
