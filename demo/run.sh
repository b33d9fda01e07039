#!/usr/bin/env bash
# The whole job on the invented picture: packages, build, photographs, and from an empty casebook to the dossiers.
# demo/run.sh [FOLDER]: where the casebook and the dossiers go (build/demo unless said otherwise).
source "$(dirname "${BASH_SOURCE[0]}")/../src/cmake/set_up.sh"

build_in release "tedge tedge_painter tackingedge" -DCMAKE_BUILD_TYPE=Release
tedge="$project/build/release/bin/tedge"
out="${1:-$project/build/demo}"
photos="$out/photographs"
book="$out/casebook"
mkdir -p "$out"
export TEDGE_AUTHOR="Hesper Vane-Larkin"

if [ ! -f "$photos/truth.json" ]; then
    echo "Painting the photographs (about a minute) …"
    "$project/build/release/bin/tedge_painter" --out "$photos" > "$out/painter.log"
fi
rm -rf "$book" "$out/dossier"
truth() { jq -c "$1" "$photos/truth.json"; }

say() { printf '%s\n' "$*"; }
# field NAME: that field of the JSON answer on standard input.
field() { jq -r ".$1"; }
# ask ARGUMENTS: runs tedge, stops the demo with its sentence when it refuses, and prints its JSON answer.
ask() { local answer; answer="$("$tedge" "$@" --json)" || { jq -r '.error | "\(.message) \(.next)"' <<< "$answer" >&2; exit 1; }; printf '%s\n' "$answer"; }
# record KIND VALUES: adds a record and prints its id.
record() { ask record add "$book" "$case" "$1" "$2" | field id; }
person() { ask person add "$book" --name "$1" --role "$2" | field id; }
# photograph FILE FACE LIGHT WHEN [flags]
photograph() { local file="$1" face="$2" light="$3" when="$4"; shift 4
    ask photograph add "$book" "$case" "$photos/$file" --face "$face" --light "$light" --when "$when" "$@" | field id; }
# region NAME-FILTER: a named outline of the truth as a GeoJSON polygon.
region() { truth "$1 | {type: \"Polygon\", coordinates: [(.outline_mm + [.outline_mm[0]])]}"; }

say "1  An empty casebook, and a case for the picture in the sale."
"$tedge" casebook create "$book" --json > /dev/null
hain="$(person "Odalind Marsh-Pettifer" restorer)"
case="$("$tedge" case add "$book" --title "The Mill at Otter Reach" --artist "E. Quillfeather" --width-mm 610 --height-mm 460 --json | field id)"
record lot '{"saleroom": "Thistlewick & Drum, Nether Ambling", "sale": "Pictures and frames", "lot_number": "412", "sale_at": "2026-03-05T14:30:00Z",
  "sale_zone": "Europe/London", "catalogue_text": "English School, a river landscape with a mill, in a gilt frame",
  "catalogue_attribution": "English School", "estimate_low": {"minor": 60000, "currency": "GBP"}, "estimate_high": {"minor": 90000, "currency": "GBP"},
  "terms_read": "2026-02-27"}' > /dev/null
photograph saleroom.jpg recto normal saleroom > /dev/null
for n in 1 2; do photograph "telephone-$n.jpg" recto normal saleroom --photographer "Tobit Crake" > /dev/null; done
photograph telephone-3.jpg verso normal saleroom --photographer "Tobit Crake" > /dev/null
record viewing_note '{"viewed_on": "2026-03-02", "answers": {"support": "canvas, slack", "lined": "no", "loose-paint": "yes, lower right and along the tear",
  "signature": "yes, under the varnish", "smell": "not-seen"}, "text": "Heavy yellow varnish and soot; the sky is better than the photograph says."}' > /dev/null

say "2  What may be bid."
record cost_line '{"name": "cleaning and retouching", "estimate": {"low": 60000, "likely": 90000, "high": 150000, "currency": "GBP"}}' > /dev/null
record cost_line '{"name": "lining and stretcher", "estimate": {"low": 35000, "likely": 45000, "high": 60000, "currency": "GBP"}}' > /dev/null
cat > "$out/plan.json" <<'PLAN'
{"currency": "GBP",
 "sale": {"premium": [{"up_to": 50000, "percent": 25}, {"percent": 20}], "vat_on_premium_percent": 20, "increments": "common"},
 "selling": "margin-scheme", "vat_percent": 20,
 "costs": [{"name": "cleaning and retouching", "amount": [600, 900, 1500]}, {"name": "lining and stretcher", "amount": [350, 450, 600]}],
 "outcomes": [{"name": "by Quillfeather", "probability": 0.55, "price": [7000, 9500, 13000], "months": [3, 8, 18], "unsold": 0.08},
              {"name": "by a follower", "probability": 0.45, "price": [2200, 3000, 4200], "months": [3, 6, 18], "unsold": 0.12}],
 "conditions": [{"name": "sound under the dirt", "probability": 0.75},
                {"name": "skinned in the sky", "probability": 0.25, "price_factor": [0.5, 0.65, 0.8], "cost_factor": [1.1, 1.3, 1.8]}],
 "target": {"profit": 1200, "loss_probability": 0.35, "cash": 6000}, "bidders": {"serious": 3, "signal_error": 0.15}}
PLAN
ceiling="$("$tedge" ceiling --plan "$out/plan.json" --json)"
limit="$(jq '.bid' <<< "$ceiling")"
"$tedge" ceiling --plan "$out/plan.json" | sed 's/^/     /'
record ceiling "$(jq -c --argjson plan "$(jq -c . "$out/plan.json")" '{plan: $plan, report: {binding: .binding, all_in: .all_in, expected_profit: .expected_profit},
  limit: {minor: (.bid * 100 | round), currency: "GBP"}, fixed_at: "2026-03-04T20:15:00Z"}' <<< "$ceiling")" > /dev/null
say "     Bought at the limit of $limit; the invoice as it should come:"
"$tedge" invoice --plan "$out/plan.json" --hammer "$limit" | sed 's/^/     /'
record purchase "$(jq -c '{bought_on: "2026-03-05", hammer: {minor: (.bid * 100 | round), currency: "GBP"}, margin_price: {minor: (.margin_price * 100 | round), currency: "GBP"},
  all_in: {minor: (.all_in * 100 | round), currency: "GBP"}, scheme: "margin", paid_on: "2026-03-06", return_window_ends: "2026-03-26"}' <<< "$ceiling")" > /dev/null
record deadline '{"what": "return window ends", "on": "2026-03-26"}' > /dev/null

say "3  Photographed as received, placed in millimetres by the corners of the painted face."
photograph received-normal.tif recto normal as-received --scale --chart > "$out/reference.id"
reference="$(cat "$out/reference.id")"
corners() { truth ".photographs[] | select(.file == \"$1\") | .face_corners_px" | tr -d '[]'; }
"$tedge" photograph place "$book" "$reference" --corners "$(corners received-normal.tif)" | sed 's/^/     /'
verso="$(photograph received-verso.jpg verso normal as-received --scale)"
"$tedge" photograph place "$book" "$verso" --corners "$(corners received-verso.jpg)" > /dev/null
raking="$(photograph received-raking.jpg recto raking as-received)"
ultraviolet="$(photograph received-ultraviolet.jpg recto ultraviolet as-received)"
infrared="$(photograph received-infrared.jpg recto infrared as-received)"
recto_frame="$("$tedge" case show "$book" "$case" --json | jq -r '[.records[] | select(.kind == "face_frame" and .fields.face == "recto")][0].id')"
verso_frame="$("$tedge" case show "$book" "$case" --json | jq -r '[.records[] | select(.kind == "face_frame" and .fields.face == "verso")][0].id')"

say "4  Surveyed: loose paint mapped, the back read before anything covers it."
record survey '{"surveyed_on": "2026-03-10", "face": "recto", "condition": "unstable", "loose_paint": "mapped", "summary": "Yellowed varnish under soot, flaking in four zones, losses, one tear."}' > /dev/null
record survey '{"surveyed_on": "2026-03-10", "face": "verso", "condition": "fair", "loose_paint": "none-found", "nail_holes": "recorded", "summary": "Plain weave, five-membered strainer, one patch, four inscriptions."}' > /dev/null
for edge in top right bottom left; do
    record survey "$(jq -nc --arg face "edge-$edge" '{surveyed_on: "2026-03-10", face: $face, condition: "fair", summary: "Original tacking edge, iron tacks, no selvedge."}')" > /dev/null
done
zones="$(truth '.recto.flaking_zones | length')"
for ((i = 0; i < zones; ++i)); do
    record finding "$(jq -nc --arg frame "$recto_frame" --argjson region "$(region ".recto.flaking_zones[$i]")" \
      '{face_frame: $frame, region: $region, layer: "paint", term: "flaking", unstable: true, severity: "severe"}')"
done > "$out/flaking.ids"
losses="$(truth '.recto.losses | length')"
for ((i = 0; i < losses && i < 12; ++i)); do
    record finding "$(jq -nc --arg frame "$recto_frame" --argjson region "$(region ".recto.losses[$i]")" \
      '{face_frame: $frame, region: $region, layer: "paint", term: "loss", severity: "moderate"}')" > /dev/null
done
for ((i = 0; i < $(truth '.verso.marks | length'); ++i)); do
    record inscription "$(jq -nc --arg frame "$verso_frame" --arg photo "$verso" --argjson region "$(region ".verso.marks[$i]")" --argjson mark "$(truth ".verso.marks[$i] | {name, text}")" \
      '{face_frame: $frame, region: $region, photograph: $photo, transcription: $mark.text, reading: "certain",
        kind: ({inscription: "inscription", stamp: "stamp", label: "label", chalk: "chalk-mark"}[$mark.name] // "inscription")}')" > /dev/null
done

say "5  A trial on flaking paint is refused; the gate says why."
first_zone="$(region '.recto.flaking_zones[0]')"
trial_values() { jq -nc --arg frame "$recto_frame" --argjson region "$1" --arg passage "$2" --arg agent "$3" --arg swab "$4" --arg verdict "$5" \
    '{face_frame: $frame, region: $region, passage: $passage, layer: "varnish", agent: $agent, application: "swab", seconds: 30, passes: 2,
      clearing: "isooctane", swab_colour: $swab, swab_answer: "varnish", verdict: $verdict, removal: 8, done_on: "2026-03-18"}'; }
"$tedge" record add "$book" "$case" trial "$(trial_values "$first_zone" sky "acetone 30, isooctane 70" yellow cleared)" 2>&1 | sed 's/^/     /' || true
photograph faced.jpg recto normal faced > "$out/faced.id"
for ((i = 0; i < zones; ++i)); do
    record facing "$(jq -nc --arg hain "$hain" --arg frame "$recto_frame" --argjson region "$(region ".recto.flaking_zones[$i]")" \
      '{face_frame: $frame, region: $region, tissue: "Japanese tissue", adhesive: "sturgeon glue 3 %", tried_there: true, tried_by: $hain, laid_by: $hain, comes_off_with: "warm water", laid_on: "2026-03-11"}')" > /dev/null
done
record custody '{"place": "the workshop in Tanner Row", "holder": "'"$hain"'", "from": "2026-03-12", "receipt": "signed 12 March", "insured_by": "the Lantern Mutual", "insured_value": {"minor": 300000, "currency": "GBP"}}' > /dev/null
record treatment_step "$(jq -nc '{act: "consolidation", materials: "sturgeon glue 2 % in water, warm spatula", text: "Flaking zones laid.", done_on: "2026-03-14"}')" > /dev/null
while read -r id; do "$tedge" record change "$book" "$id" '{"consolidated_on": "2026-03-14"}' --json > /dev/null; done < "$out/flaking.ids"

say "6  Trials on sound paint, mildest first."
for ((i = 0; i < $(truth '.recto.trials | length'); ++i)); do
    agent="$(sed -n "$((i + 1))p" <<< $'isooctane 100\nacetone 20, isooctane 80\nacetone 30, isooctane 70\nacetone 40, isooctane 60')"
    verdict=cleared; [ "$i" = 0 ] && verdict=too-weak
    "$tedge" record add "$book" "$case" trial "$(trial_values "$(region ".recto.trials[$i]")" "$([ $i -lt 2 ] && echo sky || echo foliage)" "${agent:-acetone 30, isooctane 70}" yellow-brown "$verdict")" > /dev/null || true
done
"$tedge" mixture "acetone 30, isooctane 70" | head -2 | sed 's/^/     /'

say "7  Cleaned, lined, filled, retouched, varnished; each state laid over the first."
register() { "$tedge" photograph register "$book" "$1" --reference "$reference" 2>&1 | sed "s/^/     $2: /" || true; }
register "$raking" raking; register "$infrared" infrared; register "$ultraviolet" ultraviolet
for state in trials half-cleaned cleaned lined filled varnished; do
    id="$(photograph "$state.jpg" recto normal "$state")"
    register "$id" "$state"
done
record treatment_step '{"act": "varnish-removal", "materials": "acetone 30, isooctane 70 (by volume), swabs, cleared with isooctane", "text": "Varnish and soot removed, a witness left in the lower left until photographed.", "done_on": "2026-04-21"}' > /dev/null
record structure_step '{"act": "lining", "materials": "linen, wheat flour and glue paste", "text": "Lined on fine linen; new keyed stretcher.", "owner_agreed": true,
  "alternatives": "strip-lining considered; the tear and the slack canvas spoke against it", "test_strip": "peeled evenly after three days", "old_kept_where": "strainer kept with the picture, rack 3", "done_on": "2026-05-06"}' > /dev/null ||
  "$tedge" gate ask "$book" "$case" structure_step '{"act": "lining"}' | sed 's/^/     /'
record treatment_step '{"act": "filling", "materials": "chalk and glue putty", "text": "Losses filled level.", "done_on": "2026-05-20"}' > /dev/null
record treatment_step '{"act": "retouching", "materials": "dry pigments in a reversible resin", "text": "Fills and abrasion only.", "done_on": "2026-06-02"}' > /dev/null
record treatment_step '{"act": "final-varnish", "materials": "hydrogenated resin in white spirit, sprayed", "text": "Two thin coats.", "done_on": "2026-06-15"}' > /dev/null
record picture_frame '{"description": "Gilt composition frame, mid nineteenth century", "rebate_depth_mm": 14, "sight_width_mm": 600, "sight_height_mm": 450, "protected_material": "no"}' > /dev/null

say "8  Whose it was."
order=0
while IFS='|' read -r owner role from to direct source; do
    order=$((order + 1))
    record provenance_link "$(jq -nc --argjson order "$order" --arg owner "$owner" --arg role "$role" --arg from "$from" --arg to "$to" --arg direct "$direct" --arg source "$source" \
      '{order: $order, owner: $owner, role: $role, from: $from, to: $to, direct_to_next: $direct, source: $source}')" > /dev/null
done <<'CHAIN'
Mrs A. Brindlemere, Otter Reach|owner|1847~|1871|yes|label on the strainer
Thomas Brindlemere, her son|owner|1871|1903|unknown|will, county record office
Pellow & Siddick, Wexcombe|dealer|1926|1926|no|stock book, no. 412
private collection|owner|1951~|2026|yes|the saleroom's word
CHAIN
record attribution_claim '{"qualifier": "attributed to", "artist": "E. Quillfeather", "claimed_on": "2026-07", "ours": true, "evidence_for": "Inscription on the original canvas; colourman'"'"'s stamp of the right years.", "evidence_against": "No signed work to compare at first hand."}' > /dev/null

say "9  The book checked, and the dossiers."
"$tedge" casebook check "$book" | sed 's/^/     /'
for reader in buyer restorer; do
    "$tedge" dossier "$book" "$case" --for "$reader" --out "$out/dossier" | sed 's/^/     /'
    "$tedge" bag verify "$out/dossier/dossier-$reader" | sed 's/^/     /'
done
say "Casebook: $book"
say "Dossiers: $out/dossier"
if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
    exec "$project/build/release/bin/tackingedge" --by "Hesper Vane-Larkin" "$book"
fi
