say "9  The book is checked, and a dossier written for each reader."
change "$picture" "$(jq -nc --arg by "$dealer" '{date_made: "1847", subject: "River landscape at evening with a watermill, cows in the shallows, a woman and her dog on a path.",
  distinguishing: "Signed at the lower edge, right of the middle; inscribed on the back of the original canvas, now covered; number 27 on a label kept with the strainer.", finished_on: "2025-06-12",
  left_out: "Names of private owners after 1958; what it cost and what may be asked.", left_out_signed_by: $by, left_out_signed_on: "2025-06-15", asking_price: {minor: 1450000, currency: "GBP"}}')"
ask casebook check "$book" > /dev/null
"$tedge" casebook check "$book" | indented
for reader in buyer restorer carrier insurer scholar own; do
    "$tedge" dossier "$book" "$picture" --for "$reader" --out "$out/dossier" | indented
    "$tedge" bag verify "$out/dossier/dossier-$reader" | indented
done
