#include "picture_cut.hpp"
#include "sections.hpp"
#include "tedge/base/length.hpp"
#include "tedge/dossier/compose.hpp"
#include "tedge/provenance/date_words.hpp"

namespace tedge::dossier {

using casebook::Record;

namespace {

TitlePage title_page_of(const Sections& sections, Instant now) {
    const auto& extract = sections.extract;
    const Record& picture = extract.picture();
    TitlePage page;
    page.kicker = reader_words(extract.reader());
    page.title = picture.body.text_or("title");
    page.subtitle = picture.body.text_or("artist");
    if (const std::string date = value_text(extract, picture, "date_made"); !date.empty())
        page.subtitle += (page.subtitle.empty() ? "" : ", ") + date;
    const auto width = picture.body.number("width_mm");
    const auto height = picture.body.number("height_mm");
    if (const std::string technique = picture.body.text_or("technique"); !technique.empty())
        page.facts.push_back(technique);
    if (width && height) page.facts.push_back(format_size_height_first(*height, *width));
    if (const std::string stock = picture.body.text_or("stock_number"); !stock.empty())
        page.facts.push_back("Stock number " + stock);
    if (const Record* photograph = best_photograph(extract)) {
        page.picture = picture_of(sections, *photograph);
        if (page.picture) page.picture->caption = photograph_caption(extract, *photograph);
        if (const auto cut = cut_to_face(extract, *photograph); cut && page.picture)
            page.picture = cut_out(*std::move(page.picture), *cut);
    }
    page.imprint = {"Drawn from the records on " + provenance::words_for_day(to_text(now).substr(0, 10)) + "."};
    return page;
}

struct TextOfBlock {
    std::string& text;

    void line(const std::string& more) const { text += more + "\n"; }
    void operator()(const Heading& heading) const { line(heading.text); }
    void operator()(const Paragraph& paragraph) const { line(paragraph.text); }
    void operator()(const KeyValues& list) const {
        for (const auto& [key, value] : list.rows) {
            line(key);
            line(value);
        }
    }
    void operator()(const DataTable& table) const {
        line(table.caption);
        for (const auto& column : table.columns) line(column.title);
        for (const auto& row : table.rows)
            for (const auto& cell : row) line(cell);
    }
    void operator()(const Picture& picture) const {
        line(picture.caption);
        for (const auto& mark : picture.marks) line(mark.label);
    }
    void operator()(const PictureRow& row) const {
        line(row.caption);
        for (const auto& picture : row.pictures) (*this)(picture);
    }
    void operator()(const Note& note) const {
        line(note.title);
        line(note.text);
    }
    void operator()(const PageBreak&) const {}
};

}  // namespace

Document compose_document(const Extract& extract, PictureSource& pictures, Instant now) {
    Document document;
    const Sections sections{extract, pictures, document.blocks};
    document.title = extract.picture().body.text_or("title");
    document.running_head = document.title;
    document.running_note = reader_words(extract.reader());
    document.title_page = title_page_of(sections, now);
    for (const auto add :
         {add_identification, add_journey, add_photographs, add_condition, add_registered_pairs, add_made_pictures,
          add_measurements, add_trials, add_treatment, add_frame, add_whereabouts, add_provenance, add_attribution,
          add_inscriptions, add_further_records, add_care, add_unfinished, add_sources, add_handing_over})
        add(sections);
    return document;
}

std::string text_of(const Document& document) {
    std::string text = document.title + "\n" + document.running_head + "\n" + document.running_note + "\n";
    const auto& page = document.title_page;
    text += page.kicker + "\n" + page.title + "\n" + page.subtitle + "\n";
    for (const auto& line : page.facts) text += line + "\n";
    for (const auto& line : page.imprint) text += line + "\n";
    if (page.picture) text += page.picture->caption + "\n";
    for (const auto& block : document.blocks) std::visit(TextOfBlock{text}, block);
    return text;
}

}  // namespace tedge::dossier
