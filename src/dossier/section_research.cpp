// Provenance, attribution, inscriptions.
#include "sections.hpp"
#include "tedge/base/text.hpp"
#include "tedge/dossier/recorded_chain.hpp"

namespace tedge::dossier {

using casebook::Record;

void add_provenance(const Sections& sections) {
    const auto chain = recorded_chain(sections.extract);
    if (chain.empty()) return;
    sections.heading(1, "Provenance");
    const auto statement = provenance::statement(chain);
    sections.add(Paragraph{statement.chain, Voice::body});
    if (!statement.notes.empty()) sections.add(Paragraph{join(statement.notes, "\n"), Voice::quiet});
    sections.add(
        Paragraph{"Earliest owner first. A semicolon: it passed directly to the next; a full stop: it did not, "
                  "or nobody knows. Dealers, agents and salerooms stand in parentheses, life dates in "
                  "brackets.",
                  Voice::quiet});
    const auto findings = provenance::findings(chain);
    if (findings.empty()) return;
    sections.heading(2, "Questions that the dates leave open");
    std::vector<std::string> lines;
    for (const auto& finding : findings) lines.push_back("– " + finding.text);
    sections.add(Paragraph{"Each is a question to be looked into, not a verdict on title.", Voice::quiet});
    for (auto& line : lines) sections.add(Paragraph{std::move(line)});
}

void add_attribution(const Sections& sections) {
    const auto& extract = sections.extract;
    const auto claims = extract.of_kind("attribution_claim");
    if (claims.empty()) return;
    sections.heading(1, "Attribution");
    for (const Record* claim : claims) {
        sections.heading(2, sentence_case(claim->body.text_or("qualifier") + " " + claim->body.text_or("artist")) +
                                (claim->body.flag("ours") ? " (our own wording)" : ""));
        sections.add(KeyValues{labelled_values(extract, *claim, {"qualifier", "artist", "ours"})});
    }
    sections.add(Paragraph{"An attribution is an opinion of the person named at the time named.", Voice::quiet});
}

void add_inscriptions(const Sections& sections) {
    const auto& extract = sections.extract;
    const auto inscriptions = extract.of_kind("inscription");
    if (inscriptions.empty()) return;
    sections.heading(1, "Inscriptions and marks");
    DataTable table{
        {{"Sort", 1.0}, {"Where", 1.0}, {"Transcription", 2.6}, {"Reading", 1.0}, {"What it tells", 2.4}}, {}, {}};
    for (const Record* inscription : inscriptions) {
        std::string meaning = inscription->body.text_or("meaning");
        if (const std::string note = value_text(extract, *inscription, "note"); !note.empty()) meaning += "\n" + note;
        table.rows.push_back(
            {word_text(inscription->body.text_or("kind")), value_text(extract, *inscription, "face_frame"),
             inscription->body.text_or("transcription"), inscription->body.text_or("reading"), meaning});
    }
    sections.add(without_empty_columns(std::move(table)));
}

}  // namespace tedge::dossier
