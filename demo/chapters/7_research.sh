say "7  Whose it was, and whose work it is."
chain='[]'
while IFS='|' read -r owner role from to transfer direct source; do
    link="$(jq -nc --argjson order "$(jq length <<< "$chain")" --arg owner "$owner" --arg role "$role" --arg from "$from" --arg to "$to" --arg transfer "$transfer" --arg direct "$direct" --arg source "$source" \
      '{order: ($order + 1), owner: $owner, role: $role, from: $from, to: $to, transfer: $transfer, direct_to_next: $direct, source: $source} | with_entries(select(.value != ""))')"
    note provenance_link "$link"
    chain="$(jq -c --argjson link "$link" '. + [$link]' <<< "$chain")"
done <<'CHAIN'
the artist|owner|1847|1848~||yes|Inscription on the original canvas, photographed before lining.
Mrs Araminta Brindlemere, Otter Hall, and heirs|owner|1848~|1903?||yes|Label on the strainer; her account book, "27. Landscape, Quillfeather, 8 gns."
Colonel Fane Brindlemere, Otter Hall|owner|1903?|1931-06-09|by descent|yes|Family letter.
Otter Hall sale, lot 88|saleroom|1931-06-09|1931-06-09|to "Moss"|unknown|Marked catalogue.
private house, Nether Ambling|owner|1958|2025-03-11||yes|Receipt of 1958.
Thistlewick & Drum, Nether Ambling|saleroom|2025-03-11|2025-03-11|lot 412|yes|Catalogue and invoice.
CHAIN
jq '{links: [.[] | {owner, kind: .role, from, to, transfer, direct_to_next, notes: [.source]} | with_entries(select(.value != null))]}' <<< "$chain" > "$out/chain.json"
"$tedge" provenance "$out/chain.json" | indented
note document "$(jq -nc '{title: "Report by Ignace Thrapple", sort: "opinion", dated: "2025-06-05", rights: "with its writer"}')"
note deadline "$(jq -nc --arg on "$(date -u -d '+30 days' +%F)" '{what: "ask the county library for the annotated catalogue of 1931: who was Moss?", on: $on}')"
note attribution_claim '{"qualifier": "follower of", "artist": "E. Quillfeather", "claimed_by": "Thistlewick & Drum", "claimed_on": "2025-03-11", "source": "Sale catalogue, lot 412"}'
note attribution_claim "$(jq -nc '{qualifier: "by", artist: "E. Quillfeather", claimed_on: "2025-06-05", ours: true, evidence_for: "Signature under the varnish; inscription, year and number on the original canvas; number 27 in an account book of about 1848; the boat painted out under the river.", evidence_against: "No signed work of these years could be compared at first hand.", source: "Researcher'"'"'s report of 5 June 2025"}')"
