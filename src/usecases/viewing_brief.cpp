#include <fmt/format.h>

#include "lot_on_record.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/dossier/gui_application.hpp"
#include "tedge/dossier/pdf_writer.hpp"
#include "tedge/usecases/viewing.hpp"

namespace tedge::usecases {

using casebook::CaseSnapshot;
using casebook::Record;

namespace {

std::string lot_line(const casebook::Body& lot) {
    std::vector<std::string> parts;
    for (const auto& [before, field] :
         {std::pair{"", "saleroom"}, std::pair{"", "sale"}, std::pair{"lot ", "lot_number"}}) {
        if (const std::string said = lot.text_or(field); !said.empty()) parts.push_back(before + said);
    }
    return join(parts, ", ");
}

std::vector<std::string> facts_of(const CaseSnapshot& snapshot) {
    std::vector<std::string> facts;
    const auto lots = snapshot.of_kind("lot");
    const casebook::Body& picture = snapshot.picture.body;
    if (!lots.empty()) {
        const casebook::Body& lot = lots.back()->body;
        if (std::string line = lot_line(lot); !line.empty()) facts.push_back(std::move(line));
        if (const auto at = parse_instant(lot.text_or("sale_at")))
            facts.push_back("Sale begins " + moment_words(*at, lot.text_or("sale_zone")));
        if (const auto as = lot.text("catalogue_attribution")) facts.push_back("Catalogued as " + *as);
    }
    const auto width = picture.number("width_mm");
    const auto height = picture.number("height_mm");
    if (width && height)
        facts.push_back(fmt::format("Size as catalogued, height first: {:.0f} x {:.0f} mm", *height, *width));
    return facts;
}

constexpr std::string_view how_to_answer =
    "Answer each with yes, no or not seen. Where it was not seen, say why: framed, sealed, refused or not asked.";
constexpr std::string_view what_to_photograph =
    "Photographs, by telephone: the whole front and the whole back, each corner, the signature close and from the "
    "side, "
    "labels and writing on the back, whatever is torn, patched or loose, and one with the lamp low from the left.";
// A viewer whom the seller pays, or who bids himself, sees otherwise; it is asked openly and stands with the note.
constexpr std::string_view whose_eyes =
    "At the end, in a line of its own: who asked you to look, who pays you and how much, and whether you gain by the "
    "sale or mean to bid.";
constexpr std::string_view what_not_to_do =
    "Touch no paint, wipe nothing, take nothing out of its frame without leave. Do not let anybody stand it on a loose "
    "edge. An ultraviolet lamp hurts eyes and skin: goggles, and nobody looks into it.";

}  // namespace

ViewingBrief viewing_brief(const CaseSnapshot& snapshot) {
    ViewingBrief brief{.title = snapshot.picture.body.text_or("title"), .facts = facts_of(snapshot)};
    int number = 0;
    for (const casebook::Field& field : casebook::parts_asked("viewing_note", "answers")) {
        brief.questions.push_back({++number, std::string(field.name), std::string(field.label)});
    }
    return brief;
}

std::string brief_text(const ViewingBrief& brief) {
    std::string text = "Viewing: " + brief.title + "\n";
    for (const std::string& fact : brief.facts) text += fact + "\n";
    text += fmt::format("\n{}\nBy number is enough: 1 yes, 2 no, 3 not seen framed. Remarks after a colon.\n\n",
                        how_to_answer);
    for (const BriefQuestion& question : brief.questions)
        text += fmt::format("{}. {}?\n", question.number, question.text);
    return text + fmt::format("\n{}\n\n{}\n\n{}\n", whose_eyes, what_to_photograph, what_not_to_do);
}

namespace {

dossier::Document document_of(const ViewingBrief& brief) {
    dossier::Document document;
    document.title = "Viewing: " + brief.title;
    document.running_head = document.title;
    document.begins_below_title = true;
    document.title_page = {.kicker = "Questions for the viewing", .title = brief.title, .facts = brief.facts};
    document.blocks.emplace_back(dossier::Paragraph{std::string(how_to_answer), dossier::Voice::lead});
    dossier::DataTable table;
    table.columns = {{"", 0.5, dossier::Align::right}, {"Question", 6.0}, {"yes", 0.7}, {"no", 0.7},
                     {"not seen: why", 2.0},           {"Remark", 4.0}};
    for (const BriefQuestion& question : brief.questions) {
        table.rows.push_back({fmt::format("{}", question.number), question.text, "☐", "☐", "☐", ""});
    }
    document.blocks.emplace_back(std::move(table));
    document.blocks.emplace_back(dossier::Paragraph{std::string(whose_eyes)});
    document.blocks.emplace_back(dossier::Paragraph{std::string(what_to_photograph)});
    document.blocks.emplace_back(dossier::Note{dossier::Tone::caution, "", std::string(what_not_to_do)});
    return document;
}

Expected<void> check_is_free(const std::filesystem::path& file) {
    std::error_code ignored;
    if (!std::filesystem::exists(file, ignored)) return {};
    return fail("viewing.exists", fmt::format("There is a file {} already.", to_utf8(file)),
                "Name another folder, or take the old brief away.");
}

}  // namespace

Expected<BriefFiles> write_brief(casebook::Casebook& book, const Uuid& case_id, const std::filesystem::path& out,
                                 Instant now, const Progress& progress) {
    const auto snapshot = book.snapshot(case_id);
    if (!snapshot) return pass_on(snapshot);
    const ViewingBrief brief = viewing_brief(*snapshot);
    BriefFiles files{out / "viewing-brief.pdf", out / "viewing-brief.txt"};
    for (const auto& file : {files.pdf, files.text}) {
        if (auto is_free = check_is_free(file); !is_free) return pass_on(is_free);
    }
    dossier::require_gui_application();
    const auto pdf = dossier::write_pdf(document_of(brief), now, progress);
    if (!pdf) return pass_on(pdf);
    files.pages = pdf->pages;
    if (auto made = make_folder_durably(out); !made) return pass_on(made);
    if (auto written = write_file_durably(files.text, brief_text(brief)); !written) return pass_on(written);
    if (auto written = write_file_durably(files.pdf, pdf->bytes); !written) return pass_on(written);
    return files;
}

}  // namespace tedge::usecases
