#include <algorithm>

#include "field_text.hpp"
#include "linked_art.hpp"
#include "pdf_text.hpp"
#include "placed_photographs.hpp"
#include "record_files.hpp"
#include "region_annotations.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/table.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/leak_search.hpp"
#include "tedge/dossier/bag_writer.hpp"
#include "tedge/dossier/compose.hpp"
#include "tedge/dossier/pdf_writer.hpp"
#include "tedge/imaging/forecast_mark.hpp"
#include "tedge/imaging/write_picture.hpp"

namespace tedge::dossier {

namespace fs = std::filesystem;
using casebook::CaseSnapshot;
using casebook::Reader;
using casebook::Record;

namespace {

// Whoever works on the picture or studies it gets more pixels than whoever buys, carries or insures it.
int longest_side_px(Reader reader) {
    const bool close_look = reader == Reader::own || reader == Reader::restorer || reader == Reader::scholar;
    return close_look ? 6000 : 3000;
}

class DossierWriter {
public:
    DossierWriter(const CaseSnapshot& snapshot, const DossierRequest& request, PictureSource& pictures,
                  Progress progress)
        : snapshot_(snapshot),
          request_(request),
          extract_(Extract::of(snapshot, request.reader)),
          pictures_(pictures),
          progress_(std::move(progress)) {}

    Expected<DossierFiles> write() {
        const fs::path& out = request_.out;
        const std::string stem = "dossier-" + std::string(casebook::to_text(extract_.reader()));
        DossierFiles files{out / (stem + ".pdf"), out / stem, 0};
        for (const auto& file : {files.pdf, files.bag})
            if (std::error_code none; fs::exists(file, none))
                return fail("dossier.exists", "There is already a dossier at " + to_utf8(file) + ".",
                            "Choose another folder, or move the old one away.", {{"path", to_utf8(file)}});
        if (auto made = make_folder_durably(out); !made) return pass_on(made);
        auto bag = BagWriter::begin(files.bag);
        if (!bag) return pass_on(bag);
        auto pdf = compose_pdf();
        if (!pdf) return pass_on(pdf);
        files.pages = pdf->pages;
        if (auto filled = fill(*bag, pdf->bytes); !filled) return pass_on(filled);
        if (auto written = write_file_durably(files.pdf, pdf->bytes); !written) return pass_on(written);
        if (auto sealed = bag->finish(info(), request_.now); !sealed) {
            std::error_code ignored;
            fs::remove(files.pdf, ignored);
            return pass_on(sealed);
        }
        return files;
    }

private:
    Expected<PdfResult> compose_pdf() {
        const Document document = compose_document(extract_, pictures_, request_.now);
        if (auto clean = check_leaks("the text of the PDF", text_of(document)); !clean) return pass_on(clean);
        auto pdf = write_pdf(document, request_.now, progress_.part(0.0, 0.6));
        if (!pdf) return pdf;
        // And what the writer made of it, bookmarks and metadata included.
        const auto readable = text_in_pdf(pdf->bytes);
        if (!readable) return pass_on(readable);
        if (auto clean = check_leaks("the finished PDF", *readable); !clean) return pass_on(clean);
        return pdf;
    }

    [[nodiscard]] Expected<void> check_leaks(const std::string& name, const std::string& text) const {
        auto leaks = casebook::find_leaks(snapshot_, extract_.reader(), {{name, text}});
        std::erase_if(leaks, [&](const casebook::Leak& found) {
            return request_.leaks_accepted.contains({found.kind, found.field});
        });
        if (leaks.empty()) return {};
        const auto& leak = leaks.front();
        const auto* kind = casebook::find_kind(leak.kind);
        const auto* field = kind == nullptr ? nullptr : kind->field(leak.field);
        const std::string label = field == nullptr ? leak.field : std::string(field->label);
        return fail(
            "dossier.leak",
            "What stands under \"" + label + "\" (" + leak.kind + ") is not for this reader, but also stands in " +
                leak.where + ".",
            "Take it out of the texts that this reader may have.",
            {{"kind", leak.kind}, {"field", leak.field}, {"where", leak.where}, {"record", to_text(leak.record)}});
    }

    Expected<void> add_text(BagWriter& bag, const NamedFile& file) const {
        if (auto clean = check_leaks(file.first, file.second); !clean) return clean;
        return bag.add(file.first, file.second);
    }

    Expected<void> fill(BagWriter& bag, const std::string& pdf) {
        if (auto added = bag.add("dossier.pdf", pdf); !added) return added;
        std::vector<NamedFile> files = record_files(extract_);
        for (auto& file : linked_art_files(extract_)) files.push_back(std::move(file));
        files.emplace_back("heads.json", heads_file(request_.heads, extract_.picture().id));
        for (const auto& file : files)
            if (auto added = add_text(bag, file); !added) return added;
        return add_pictures(bag);
    }

    // What stands in the PDF alone; asked as what the bag holds is.
    Expected<void> check_made_pictures() {
        if (may_have_forecasts()) return {};
        for (const Record* made : extract_.of_kind("derived_picture")) {
            if (progress_.stopped()) return cancelled();
            const auto pixels = pictures_.photograph(made->id, longest_side_px(extract_.reader()));
            if (!pixels) return pass_on(pixels);
            if (auto fine = check_is_no_forecast(*made, *pixels); !fine) return fine;
        }
        return {};
    }

    Expected<void> add_pictures(BagWriter& bag) {
        if (auto fine = check_made_pictures(); !fine) return fine;
        auto photographs = extract_.of_kind("photograph");
        std::ranges::stable_sort(photographs, {}, [](const Record* record) { return stage_rank(*record); });
        std::string index = to_csv_line({"file", "photograph", "width_px", "height_px", "reduced_from_width_px",
                                         "reduced_from_height_px", "face", "light", "stage"});
        std::size_t number = 0;
        for (const Record* photograph : photographs) {
            if (progress_.stopped()) return cancelled();
            const double share = static_cast<double>(number) / static_cast<double>(photographs.size());
            progress_.at(0.6 + 0.4 * share, "copying pictures");
            ++number;
            if (auto added = add_picture(bag, *photograph, number, index); !added) return added;
        }
        return photographs.empty() ? Expected<void>{} : bag.add("pictures/index.csv", index);
    }

    [[nodiscard]] bool may_have_forecasts() const {
        return casebook::find_kind("cleaning_forecast")->field("what")->readers.contains(extract_.reader());
    }

    // Intake refuses such a file; one may stand among the photographs from before, or by what another book sent.
    [[nodiscard]] Expected<void> check_is_no_forecast(const Record& picture, const imaging::Raster8& pixels) const {
        if (may_have_forecasts() || !imaging::forecast_mark_in(pixels).seen) return {};
        return fail("dossier.forecast",
                    "One of the pictures is a cleaning forecast: the word FORECAST stands in it. It is not for this "
                    "reader.",
                    "Remove it from the photographs or the pictures made from them, then make the dossier again.",
                    {{"photograph", to_text(picture.id)}, {"record", to_text(picture.id)}});
    }

    // Decoded and encoded again: nothing of the original's metadata can be in it.
    Expected<void> add_picture(BagWriter& bag, const Record& photograph, std::size_t number, std::string& index) {
        const auto pixels = pictures_.photograph(photograph.id, longest_side_px(extract_.reader()));
        if (!pixels) return pass_on(pixels);
        if (auto photographed = check_is_no_forecast(photograph, *pixels); !photographed) return photographed;
        const auto bytes = imaging::encode_picture(*pixels, imaging::PictureFormat::jpeg);
        if (!bytes) return pass_on(bytes);
        const auto& body = photograph.body;
        const std::string stem = (number < 10 ? "0" : "") + std::to_string(number) + "-" + body.text_or("face") + "-" +
                                 body.text_or("light") + "-" + body.text_or("stage");
        const std::string file = "pictures/" + stem + ".jpg";
        if (auto added = bag.add(file, *bytes); !added) return added;
        index += to_csv_line({file, to_text(photograph.id), std::to_string(pixels->width_px()),
                              std::to_string(pixels->height_px()), value_or_blank(photograph, "width_px"),
                              value_or_blank(photograph, "height_px"), body.text_or("face"), body.text_or("light"),
                              body.text_or("stage")});
        const auto page = annotation_page(extract_, photograph, file, pixels->size());
        return page ? add_text(bag, {"annotations/" + stem + ".json", *page}) : Expected<void>{};
    }

    static std::string value_or_blank(const Record& record, std::string_view field) {
        const auto value = record.body.integer(field);
        return value ? std::to_string(*value) : "";
    }

    [[nodiscard]] std::vector<BagInfoField> info() const {
        const auto& body = extract_.picture().body;
        std::vector<BagInfoField> fields{
            {"External-Description", reader_words(extract_.reader()) + ": " + body.text_or("title")},
            {"External-Identifier", "urn:uuid:" + to_text(extract_.picture().id)}};
        if (const std::string stock = body.text_or("stock_number"); !stock.empty())
            fields.push_back({"Internal-Sender-Identifier", stock});
        fields.push_back({"Bag-Software-Agent", "Tacking Edge"});
        return fields;
    }

    const CaseSnapshot& snapshot_;
    const DossierRequest& request_;
    Extract extract_;
    PictureSource& pictures_;
    Progress progress_;
};

}  // namespace

Expected<DossierFiles> write_dossier(const CaseSnapshot& snapshot, const DossierRequest& request,
                                     PictureSource& pictures, const Progress& progress) {
    return DossierWriter(snapshot, request, pictures, progress).write();
}

}  // namespace tedge::dossier
