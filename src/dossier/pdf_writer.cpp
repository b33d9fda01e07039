#include "tedge/dossier/pdf_writer.hpp"

#include <QBuffer>
#include <QPageLayout>
#include <QPageSize>
#include <QPdfWriter>

#include "page_flow.hpp"
#include "pdf_finishing.hpp"
#include "picture_block.hpp"
#include "table_block.hpp"
#include "text_blocks.hpp"
#include "title_page.hpp"

namespace tedge::dossier {

namespace {

using page::pt;

template <class... Functions>
struct Overloaded : Functions... {
    using Functions::operator()...;
};

std::unexpected<Error> bad_document(std::string what) {
    return fail("pdf.bad-document", "The document cannot be laid out: " + std::move(what) + ".", "Please report this.");
}

Expected<void> check(const Picture& picture) {
    if (picture.size.width_px <= 0 || picture.size.height_px <= 0 || !picture.pixels)
        return bad_document("a picture has no size or no pixels");
    return {};
}

Expected<void> check(const Block& block) {
    if (const auto* table = std::get_if<DataTable>(&block)) {
        if (table->columns.empty()) return bad_document("a table has no columns");
        for (const auto& row : table->rows)
            if (row.size() != table->columns.size())
                return bad_document("a table row has another length than its header");
    }
    if (const auto* row = std::get_if<PictureRow>(&block)) {
        if (row->pictures.empty()) return bad_document("a row of pictures is empty");
        for (const auto& picture : row->pictures)
            if (auto good = check(picture); !good) return good;
    }
    return {};
}

Expected<void> check(const Document& document) {
    if (document.title_page.picture)
        if (auto good = check(*document.title_page.picture); !good) return good;
    for (const auto& block : document.blocks)
        if (auto good = check(block); !good) return good;
    return {};
}

void set_up(QPdfWriter& writer, const Document& document) {
    writer.setPdfVersion(QPagedPaintDevice::PdfVersion_A1b);
    writer.setResolution(page::dots_per_inch);
    writer.setPageLayout(QPageLayout(QPageSize(QPageSize::A4), QPageLayout::Portrait, QMarginsF(0, 0, 0, 0)));
    writer.setTitle(QString::fromStdString(document.title));
    writer.setCreator(QStringLiteral("Tacking Edge"));
}

class Composition {
public:
    Composition(const Document& document, QPdfWriter& writer)
        : document_(document),
          writer_(writer),
          flow_(&writer),
          section_pages_(std::make_shared<page::SectionPages>()) {}

    void lay_out() {
        if (document_.begins_below_title) {
            page::lay_out_short(flow_, document_.title_page);
        } else {
            page::lay_out(flow_, document_.title_page);
        }
        std::vector<std::string> sections;
        for (const auto& block : document_.blocks)
            if (const auto* heading = std::get_if<Heading>(&block); heading && heading->level == 1)
                sections.push_back(heading->text);
        if (document_.begins_below_title) {
            // goes on below the title
        } else if (sections.size() > 1) {
            page::lay_out_contents(flow_, sections, section_pages_);
        } else if (!document_.blocks.empty()) {
            flow_.new_page();
        }
        for (std::size_t i = 0; i < document_.blocks.size(); ++i) lay_out_block(i);
        for (const auto& heading : flow_.headings())
            if (heading.level == 1) section_pages_->push_back(heading.page);
    }

    Expected<void> paint(const Progress& progress) {
        QPainter painter(&writer_);
        const int count = pages();
        for (int i = 0; i < count; ++i) {
            if (progress.stopped()) return cancelled();
            progress.at(static_cast<double>(i) / count, "painting pages");
            if (i > 0) {
                writer_.newPage();
                page::draw_head_and_foot(painter, document_, flow_.types(), i, count);
            }
            for (const auto& drawing : flow_.pages()[static_cast<std::size_t>(i)])
                if (auto drawn = drawing(painter); !drawn) return drawn;
        }
        return {};
    }

    [[nodiscard]] int pages() const { return static_cast<int>(flow_.pages().size()); }

    [[nodiscard]] std::vector<Bookmark> bookmarks() const {
        std::vector<Bookmark> bookmarks;
        for (const auto& heading : flow_.headings()) {
            const double from_top_pt = (heading.y - pt(12.0)) * 72.0 / page::dots_per_inch;
            bookmarks.push_back({heading.level, heading.text, heading.page,
                                 page::paper_height * 72.0 / page::dots_per_inch - from_top_pt});
        }
        return bookmarks;
    }

private:
    void lay_out_block(std::size_t index) {
        const auto set =
            Overloaded{[&](const Heading& heading) {
                           if (heading.level == 1) ++sections_;
                           page::lay_out(flow_, heading, heading.level == 1 ? sections_ : 0, room_to_begin(index + 1));
                       },
                       [&](const PageBreak&) {
                           if (!flow_.at_top()) flow_.new_page();
                       },
                       [&](const auto& block) { page::lay_out(flow_, block); }};
        std::visit(set, document_.blocks[index]);
    }

    // What must fit under a heading so that it does not stand alone at the foot of a page.
    [[nodiscard]] double room_to_begin(std::size_t index) {
        if (index >= document_.blocks.size()) return pt(28.0);
        const auto room =
            Overloaded{[&](const Heading&) { return pt(46.0) + room_to_begin(index + 1); },
                       [&](const DataTable& table) { return page::room_to_begin(flow_, table); },
                       [&](const PictureRow& row) { return page::room_to_begin(flow_, row); },
                       [&](const KeyValues& list) { return page::room_to_begin(flow_, list); },
                       [&](const Paragraph& paragraph) {
                           // A summary stands with the facts it sums up.
                           const bool leads = paragraph.voice == Voice::lead && is_facts(index + 1);
                           return page::room_to_begin(flow_, paragraph) + (leads ? room_to_begin(index + 1) : 0.0);
                       },
                       [&](const auto&) { return pt(42.0); }};
        return std::visit(room, document_.blocks[index]);
    }

    [[nodiscard]] bool is_facts(std::size_t index) const {
        if (index >= document_.blocks.size()) return false;
        const Block& block = document_.blocks[index];
        return std::holds_alternative<KeyValues>(block) || std::holds_alternative<DataTable>(block);
    }

    const Document& document_;
    QPdfWriter& writer_;
    page::PageFlow flow_;
    std::shared_ptr<page::SectionPages> section_pages_;
    int sections_ = 0;
};

}  // namespace

Expected<PdfResult> write_pdf(const Document& document, Instant now, const Progress& progress) {
    if (auto good = check(document); !good) return pass_on(good);
    const auto turn = page::take_turn();
    if (auto good = page::check_fonts(); !good) return pass_on(good);
    QBuffer buffer;
    buffer.open(QIODevice::WriteOnly);
    int pages = 0;
    std::vector<Bookmark> bookmarks;
    {
        QPdfWriter writer(&buffer);
        set_up(writer, document);
        Composition composition(document, writer);
        composition.lay_out();
        if (auto painted = composition.paint(progress.part(0.0, 0.9)); !painted) return pass_on(painted);
        pages = composition.pages();
        bookmarks = composition.bookmarks();
    }
    progress.at(0.9, "finishing the PDF");
    auto bytes = finish_pdf(buffer.data().toStdString(), document.title, document.language, bookmarks, now);
    if (!bytes) return pass_on(bytes);
    return PdfResult{std::move(*bytes), pages};
}

}  // namespace tedge::dossier
