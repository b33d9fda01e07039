// Looks in what is to leave the house for what its reader may not be given. The one search: gate 22 asks it before a
// text leaves, the dossier asks it of each file on its way out.
//
// Secret is the value of a field that neither this reader nor a buyer nor a scholar may have, by the field tables: what
// any buyer may read is no secret before a carrier. A value that a field of this reader also holds, as a whole or as a
// whole sentence, is none either; nor is the wording of an attribution that he is told (qualifier and artist).
//
// What counts as found. A search that cries at every everyday word is switched off, so a value must tell something by
// itself; common practice, the lengths are our own:
//   name      one line of a person's record. Two words or more in letters of either case; a single word (from
//             three letters) as it is written or all in capitals, for a marsh is a landscape and Marsh a person; digits
//             (a telephone number) from six on.
//   note      paragraphs: the whole, from three words and twelve letters on, and every sentence from four words and
//             sixteen letters on, for half a note is a note. Of a personal one (an address) each line like a line.
//   line      any other single line: from four words and sixteen letters on; two words where one has a digit, or a
//             later one a capital, for then it names something ("Unit 4, strong room"); a single word that no
//             dictionary holds (six letters, with a digit, point, @ or underscore inside). "Relining" tells nothing.
//   sum       in the ways people and programs write it: with its currency; with its decimals, from 100 on; grouped by
//             commas; grouped by blanks or points, or bare, from 10,000 on; in minor units under its key in JSON. A
//             bare 1640 may be a year, 12.50 a time, 1.640 a length in metres.
//   map       its notes as notes, its other texts as sentences, its numbers from 100 on only with a currency beside
//             them.
// Words of a list, dates, flags, measures and ids tell nothing by themselves. All are found as whole words; line
// breaks, the sort of blank, quotation marks and the escapes of JSON and CSV do not matter. Not found: a surname alone
// of a name in two words, a value in other words, a value inside pixels.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/snapshot.hpp"

namespace tedge::casebook {

struct Leak {
    Uuid record;
    std::string kind;
    std::string field;
    std::string where;  // the name given beside the text it was found in
    friend bool operator==(const Leak&, const Leak&) = default;
};

// `texts`: name and content in UTF-8, such as ("the text of the PDF", "…"). Each secret field once for each text it
// stands in, in the order of the snapshot.
[[nodiscard]] std::vector<Leak> find_leaks(const CaseSnapshot& snapshot, Reader reader,
                                           const std::vector<std::pair<std::string, std::string>>& texts);

}  // namespace tedge::casebook
