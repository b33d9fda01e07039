say "1  2 to 11 March 2025. A picture comes up for sale; it is looked at, and what may be bid is worked out."
"$tedge" casebook create "$book" --json > /dev/null
dealer="$(person "Hesper Vane-Larkin" dealer)"
viewer="$(person "Tobit Crake" viewer)"
restorer="$(person "Odalind Marsh-Pettifer" restorer)"
liner="$(person "Corviston Yaw" liner)"
researcher="$(person "Ignace Thrapple" researcher)"
carrier="$(person "Quern Brothers" carrier)"
saleroom="$(person "Thistlewick & Drum" saleroom)"
picture="$(ask case add "$book" --title "The Mill at Otter Reach" --artist "E. Quillfeather" --width-mm 610 --height-mm 460 | field id)"

awk '/^```json/ {inside = 1; next} /^```/ {inside = 0} inside' "$project/demo/scenario/scenario.md" > "$out/plan.json"
lot="$(record lot "$(jq -c --argjson plan "$(jq -c . "$out/plan.json")" '. + ($plan.sale
  | {"terms/premium": .premium, "terms/vat_on_premium_percent": .vat_on_premium_percent, "terms/surcharge_percent": .surcharge_percent})' <<< '{"saleroom": "Thistlewick & Drum, Nether Ambling", "sale": "Pictures and frames, 11 March 2025", "lot_number": "412",
  "sale_at": "2025-03-11T10:30:00Z", "sale_zone": "Europe/London", "terms_read": "2025-03-08",
  "catalogue_text": "Follower of E. Quillfeather, A river landscape with a mill, oil on canvas, in a gilt frame",
  "catalogue_attribution": "Follower of E. Quillfeather",
  "terms/risk_passes": "fall-of-hammer", "terms/pay_within_days": 7, "terms/storage_free_days": 7, "terms/return_window_days": 14,
  "estimate_low": {"minor": 180000, "currency": "GBP"}, "estimate_high": {"minor": 260000, "currency": "GBP"}}')")"
ask photograph add "$book" "$picture" "$photos/saleroom.jpg" --face recto --light normal --when saleroom \
    --licence "the saleroom's, for looking only" > /dev/null
for n in 1 2 3; do
    face=recto; [ "$n" = 3 ] && face=verso
    ask photograph add "$book" "$picture" "$photos/telephone-$n.jpg" --face "$face" --light normal --when saleroom \
        --photographer "Tobit Crake" --licence "rights with the house" > /dev/null
done
note viewing_note "$(jq -nc --arg viewer "$viewer" '{viewed_on: "2025-03-04", viewer: $viewer, answers: {
    signature: {answer: "yes", note: "seen through the dirt, not read"}, "loose-paint": {answer: "yes", note: "lower left"},
    patch: {answer: "yes", note: "behind, right of the middle"}, "slack-canvas": {answer: "yes"}, lined: {answer: "no"},
    ultraviolet: {answer: "not-seen"}},
  text: "Heavy yellow varnish over soot. Paint stands up lower left: do not let them stand it on that edge.",
  quality: "Sky and trees are better than the photograph says; the mill is repainted in places."}')"
say "     Tobit Crake went to see it on 4 March: three telephone photographs, six questions, one of them \"not seen\"."

while read -r line; do note cost_line "$line"; done < <(jq -c '.costs[] | (.amount | if type == "array" then . else [., ., .] end | map(. * 100 | round)) as $a
  | {name, estimate: {low: $a[0], likely: $a[1], high: $a[2], currency: "GBP"}}' "$out/plan.json")
ceiling="$(ask ceiling --plan "$out/plan.json")"
"$tedge" ceiling --plan "$out/plan.json" | indented
note ceiling "$(jq -c --arg by "$dealer" --argjson plan "$(jq -c . "$out/plan.json")" '{plan: $plan,
  report: {binding: .binding, all_in: .all_in, expected_profit: .expected_profit, loss_probability: .loss_probability},
  limit: {minor: (.bid * 100 | round), currency: "GBP"}, fixed_by: $by, fixed_at: "2025-03-10T20:15:00Z"}' <<< "$ceiling")"
note deadline '{"what": "register to bid with Thistlewick & Drum", "on": "2025-03-09", "done_on": "2025-03-08"}'
say "     Two cards for the sale: the limit and the bids up to it for the pocket, what was reckoned for the desk at home."
ask cards "$book" "$picture" --out "$out/cards" | jq -r '.pdfs[]' | indented
