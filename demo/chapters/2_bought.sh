say "2  11 to 21 March. Bought below the limit, paid, insured, fetched."
invoice="$(ask invoice --plan "$out/plan.json" --hammer 1700)"
"$tedge" invoice --plan "$out/plan.json" --hammer 1700 | indented
note purchase "$(jq -c --arg seller "$saleroom" '{bought_on: "2025-03-11", seller: $seller, invoice_number: "TD 25/0412", scheme: "margin",
  hammer: {minor: 170000, currency: "GBP"}, all_in: {minor: (.total * 100 | round), currency: "GBP"},
  margin_price: {minor: ([.lines[] | select(.name != "surcharge") | .amount] | add * 100 | round), currency: "GBP"},
  paid_on: "2025-03-14", return_window_ends: "2025-03-25"}' <<< "$invoice")"
note document '{"title": "Invoice TD 25/0412", "sort": "invoice", "dated": "2025-03-11"}'
note deadline '{"what": "collect before storage is charged", "on": "2025-03-18", "done_on": "2025-03-18"}'
note deadline '{"what": "return for forgery ends", "on": "2025-03-25", "done_on": "2025-03-25"}'
note deadline '{"what": "insurance to be renewed with the Lantern Mutual", "on": "2025-09-11", "done_on": "2025-09-10"}'
change "$picture" '{"state": "bought", "stock_number": "VL 25-07", "technique": "Oil on canvas"}'

# custody PLACE HOLDER FROM TO RECEIPT PACKING: the chain of who had it, with the insurance of each stretch.
custody() {
    note custody "$(jq -nc --arg place "$1" --arg holder "$2" --arg from "$3" --arg to "$4" --arg receipt "$5" --arg packing "$6" \
      --argjson value "$(pounds 6000)" '{place: $place, holder: $holder, from: $from, to: $to, receipt: $receipt, packing: $packing,
        insured_by: "the Lantern Mutual", insured_value: $value} | with_entries(select(.value != ""))')"
}
custody "the saleroom, Nether Ambling" "$saleroom" 2025-03-11 2025-03-18 "paid and released, stamped 18 March" ""
custody "on the road to Port Ambling" "$carrier" 2025-03-18 2025-03-18 "no. 2207, signed by both sides" "Flat, face up, in a travelling tray; never on its lower left edge"
custody "the gallery, Port Ambling" "$dealer" 2025-03-18 2025-03-22 "checked in against the saleroom's photograph" ""
say "     Insured by the Lantern Mutual from the fall of the hammer, at 6,000 pounds; a receipt for each hand it passed through."
