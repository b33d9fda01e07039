say "8  March to June. Who has a part in it, what was paid in parts, what it may still bring, and what the law asks."
ask house set "$book" --name "Vane-Larkin, Port Ambling" --currency GBP --country GB --price-code paintworks > /dev/null
client="$(person "Dr Sabeth Oxenrule" client)"
purchase="$(ask case show "$book" "$picture" | jq -r '.records[] | select(.kind == "purchase") | .id')"
change "$purchase" '{"bought_in": "GB"}'

# paid DIRECTION AMOUNT DAY SETTLES PARTY [SORT]: money that moved, and what it moved for.
paid() {
    note payment "$(jq -nc --arg way "$1" --argjson amount "$(pounds "$2")" --arg on "$3" --arg settles "$4" --arg party "$5" --arg sort "${6:-payment}" \
      '{direction: $way, amount: $amount, on: $on, settles: $settles, party: $party, is: $sort, method: "bank"} | with_entries(select(.value != ""))')"
}
found="$(record commission "$(jq -nc --arg to "$viewer" --argjson amount "$(pounds 60)" '{party: $to, role: "viewer", amount: $amount, agreed_on: "2025-03-03", due_on: "2025-03-31"}')")"
paid out 60 2025-03-28 "$found" "$viewer"
paid out 400 2025-05-10 "${costs[4]}" "$restorer"
paid out 360 2025-06-14 "${costs[4]}" "$restorer"
agreement="$(record document '{"title": "Agreement on a share, 20 March 2025", "sort": "other", "dated": "2025-03-20"}')"
note share "$(jq -nc --arg party "$restorer" --arg paper "$agreement" '{party: $party, percent: 20, bears: "profit", agreed_on: "2025-03-20", agreement: $paper}')"
paid in 500 2025-06-14 "" "$client" deposit
"$tedge" accounts show "$book" "$picture" | indented

# answered QUESTION ANSWER WORDS [DOCUMENT]
answered() { ask duties answer "$book" "$picture" "$1" "$2" --text "$3" --on 2025-06-14 ${4:+--document "$4"} > /dev/null; }
certificate="$(record document '{"title": "Search certificate 25/0118", "sort": "certificate", "dated": "2025-03-20"}')"
answered register-search answered "Searched by title, painter, size and marks; no match." "$certificate"
answered bidding-agreement answered "Nobody was asked not to bid, and nobody was promised anything."
answered joint-purchase answered "The restorer's part was written down before anything was spent." "$agreement"
answered protected-material not-applicable "The frame is of composition on softwood; nothing else was found."
note document "$(jq -nc --arg until "$(date -u -d '+5 years' +%F)" '{title: "Identity paper of the client, copy", sort: "identity", dated: "2025-06-14", destroy_after: $until}')"
ask duties "$book" "$picture" --on 2025-06-15 | jq -r '.duties | group_by(.state)[] | "\(.[0].state): \(map(.duty) | join(", "))"' | indented
