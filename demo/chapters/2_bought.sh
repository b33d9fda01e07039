say "2  11 to 21 March. Bought below the limit, paid, insured, fetched."
ask lot result "$book" "$picture" --result bought --hammer 1700 --scheme margin | jq -r '.post_mortem.said[], (.deadlines[] | "\(.on)  \(.what)")' | indented
ask deadlines export "$book" "$picture" --out "$out/due.ics" --remind-days 2 > /dev/null

# The invoice as it came, and as it was put right by telephone: a cover that nobody had asked for.
printf '%s\n' "Invoice number;TD 25/0412" "Hammer price;1,700.00" "Buyer's premium;442.00" "VAT on premium;88.40" \
    "Online surcharge;51.00" "Loss and damage cover;25.50" "Total;2,306.90" > "$out/invoice.csv"
if "$tedge" invoice check "$book" "$picture" --received "$out/invoice.csv" > "$out/invoice.txt"; then
    say "The check let through an invoice that it was to find wrong." >&2
    exit 1
fi
indented < "$out/invoice.txt"
sed -i -e '/^Loss/d' -e 's/2,306.90/2,281.40/' "$out/invoice.csv"
"$tedge" invoice check "$book" "$picture" --received "$out/invoice.csv" --keep | tail -1 | indented
ask lot result "$book" "$picture" --result bought --paid-on 2025-03-14 --collected-on 2025-03-18 \
    --insured-by "the Lantern Mutual" --insured-value 6000 > /dev/null

# made KIND FILTER: the id of a record that an act of the program wrote.
made() { ask case show "$book" "$picture" | jq -r "first(.records[] | select(.kind == \"$1\") | select($2)).id"; }
change "$(made purchase true)" "{\"seller\": \"$saleroom\"}"
change "$(made custody true)" "{\"place\": \"the saleroom, Nether Ambling\", \"holder\": \"$saleroom\", \"receipt\": \"paid and released, stamped 18 March\"}"
change "$(made deadline '.fields.term == "return"')" '{"done_on": "2025-03-25"}'
note document '{"title": "Invoice TD 25/0412", "sort": "invoice", "dated": "2025-03-11"}'
note deadline '{"what": "insurance to be renewed with the Lantern Mutual", "on": "2025-09-11", "done_on": "2025-09-10"}'
change "$picture" '{"state": "bought", "stock_number": "VL 25-07", "technique": "Oil on canvas"}'

# custody PLACE HOLDER FROM TO RECEIPT PACKING: the chain of who had it, with the insurance of each stretch.
custody() {
    note custody "$(jq -nc --arg place "$1" --arg holder "$2" --arg from "$3" --arg to "$4" --arg receipt "$5" --arg packing "$6" \
      --argjson value "$(pounds 6000)" '{place: $place, holder: $holder, from: $from, to: $to, receipt: $receipt, packing: $packing,
        insured_by: "the Lantern Mutual", insured_value: $value} | with_entries(select(.value != ""))')"
}
custody "on the road to Port Ambling" "$carrier" 2025-03-18 2025-03-18 "no. 2207, signed by both sides" "Flat, face up, in a travelling tray; never on its lower left edge"
custody "the gallery, Port Ambling" "$dealer" 2025-03-18 2025-03-22 "checked in against the saleroom's photograph" ""
say "     Insured by the Lantern Mutual from the fall of the hammer, at 6,000 pounds; a receipt for each hand it passed through."
