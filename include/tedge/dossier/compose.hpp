// The dossier of a case for one reader: a PDF for people and a bag for machines, from what he may have and nothing
// else.
#pragma once

#include <filesystem>
#include <set>
#include <string>
#include <vector>

#include "tedge/base/clock.hpp"
#include "tedge/base/progress.hpp"
#include "tedge/casebook/casebook.hpp"
#include "tedge/casebook/gates.hpp"
#include "tedge/dossier/document.hpp"
#include "tedge/dossier/extract.hpp"
#include "tedge/dossier/picture_source.hpp"

namespace tedge::dossier {

// What stands in the PDF, in order. The document refers to `extract` and `pictures`: both must outlive its writing.
[[nodiscard]] Document compose_document(const Extract& extract, PictureSource& pictures, Instant now);

struct DossierRequest {
    casebook::Reader reader = casebook::Reader::buyer;
    std::vector<casebook::ChainHead> heads{};  // those of other cases are left out
    Instant now{};
    std::filesystem::path out{};
    // Fields of which a named person has taken it on himself, in writing, that their values also stand in a text that
    // leaves (a name that is an everyday word, say): see gate 22.
    std::set<casebook::InternalField> leaks_accepted{};
};

struct DossierFiles {
    std::filesystem::path pdf;  // out/dossier-buyer.pdf
    std::filesystem::path bag;  // out/dossier-buyer
    int pages = 0;
};

// Writes both into the folder `out`, made where it is missing. The bag holds
//   dossier.pdf                          the same file as beside it
//   records/<kind>.json, <kind>.csv      the records the reader may have, by the field tables
//   linked-art/object.json, provenance-NN.json   Linked Art 1.0
//   annotations/<picture>.json           W3C Web Annotations, places in pixels of the picture
//   pictures/NN-face-light-stage.jpg, index.csv  re-encoded: no metadata of the originals
//   heads.json                           the newest change of each chain of the case, to show later loss
// Asks no gate: that is the use case's part, before it calls this. Everything is checked for internal values on its
// way out. Errors: dossier.leak (a withheld value stands in something that would leave; values.field, values.where),
// dossier.forecast (one of the photographs bears the word of a cleaning forecast, and the reader may have none),
// dossier.exists, those of the PDF, the bag, the pictures and files, "cancelled". On an error nothing is left behind.
[[nodiscard]] Expected<DossierFiles> write_dossier(const casebook::CaseSnapshot& snapshot,
                                                   const DossierRequest& request, PictureSource& pictures,
                                                   const Progress& progress = {});

// All text of a document, to be searched for what must not be in it.
[[nodiscard]] std::string text_of(const Document& document);

}  // namespace tedge::dossier
