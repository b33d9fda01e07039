#include "tedge/dossier/pdf_writer.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "archive_check.hpp"
#include "made_at.hpp"
#include "pdf_text.hpp"
#include "quick_files.hpp"
#include "sample_document.hpp"
#include "tedge/dossier/gui_application.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::dossier;

namespace {

PdfResult written(const Document& document) {
    require_gui_application();
    auto result = write_pdf(document, noon);
    REQUIRE(result);
    return std::move(*result);
}

std::string error_code_of(const Document& document) {
    require_gui_application();
    const auto result = write_pdf(document, noon);
    REQUIRE_FALSE(result);
    return result.error().code;
}

}  // namespace

TEST_CASE("a document of every block is archival PDF", "[pdf]") {
    const auto result = written(test::sample_document());
    if (const char* keep = std::getenv("TEDGE_KEEP_PDF")) test::put(keep, result.bytes);
    CHECK(test::archive_faults(result.bytes) == std::vector<std::string>{});
    const auto view = test::view_of(result.bytes);
    CHECK(view.pages == result.pages);
    CHECK(result.pages >= 5);
    CHECK(view.outline == std::vector<std::string>{"Identification", "Condition", "  As received", "  Before and after",
                                                   "    A small heading", "Sources"});
    CHECK(view.title == "Wooded river at evening");
    CHECK(view.information_keys ==
          std::vector<std::string>{"/CreationDate", "/Creator", "/ModDate", "/Producer", "/Title"});
    CHECK(view.decoded.find("Qt 6") == std::string::npos);
    CHECK(view.decoded.find("OpenSans") != std::string::npos);
}

TEST_CASE("the check of archival PDF finds what it is meant to find", "[pdf]") {
    auto bytes = written(test::sample_document()).bytes;
    const auto with = [&bytes](const std::string& from, const std::string& to) {
        std::string changed = bytes;
        const auto at = changed.find(from);
        REQUIRE(at != std::string::npos);
        return test::archive_faults(changed.replace(at, from.size(), to));
    };
    CHECK(with("%PDF-1.4", "%PDF-1.7").size() == 1);
    CHECK(with("<pdfaid:part>1", "<pdfaid:part>2").size() == 1);
    CHECK(with("/GTS_PDFA1", "/GTS_PDFX1").size() == 1);
    CHECK(with("/FontFile2", "/FontFile9").size() == 1);
    CHECK(with("/DeviceRGB", "/DeviceCMYK").size() >= 1);
}

TEST_CASE("the same document gives the same bytes", "[pdf]") {
    CHECK(written(test::sample_document()).bytes == written(test::sample_document()).bytes);
}

TEST_CASE("a table of any length runs over the pages", "[pdf]") {
    Document document;
    document.title = "Long";
    DataTable table{{{"No", 1.0, Align::right}, {"Text", 6.0}}, {}, ""};
    for (int i = 0; i < 400; ++i) table.rows.push_back({std::to_string(i), "row"});
    table.rows.push_back({"400", std::string(20000, 'w')});  // taller than a page
    document.blocks = {table};
    const auto result = written(document);
    CHECK(result.pages > 10);
    CHECK(test::archive_faults(result.bytes).empty());
}

namespace {

// How many of the words "<stem>0", "<stem>1" … stand on each page that has any; pages end with their folio.
std::vector<int> counted_on_pages(const PdfResult& pdf, const std::string& stem) {
    const auto text = text_in_pdf(pdf.bytes);
    REQUIRE(text);
    std::vector<int> counts;
    std::size_t at = 0;
    for (int page = 2; page <= pdf.pages; ++page) {
        // Head and foot of a page are painted before what stands on it.
        const std::string of_all = "\tof\t" + std::to_string(pdf.pages) + "\n";
        const auto from = text->find("\n" + std::to_string(page) + of_all, at);
        REQUIRE(from != std::string::npos);
        const auto next = text->find("\n" + std::to_string(page + 1) + of_all, from + 1);
        int count = 0;
        for (auto found = text->find(stem, from); found < std::min(next, text->size());
             found = text->find(stem, found + 1))
            ++count;
        if (count > 0) counts.push_back(count);
        at = from;
    }
    return counts;
}

// A block below so many lines of text: each number of lines moves it on towards the end of the page.
Document below_lines(int lines, std::vector<Block> blocks) {
    Document document;
    document.title = "Moved";
    std::string text = "line";
    for (int i = 1; i < lines; ++i) text += "\nline";
    document.blocks = {Paragraph{text}};
    for (auto& block : blocks) document.blocks.push_back(std::move(block));
    return document;
}

}  // namespace

TEST_CASE("a list of facts is not parted so that few of them stand alone", "[pdf]") {
    const auto facts = [](int count) {
        KeyValues list;
        for (int i = 0; i < count; ++i) list.rows.emplace_back("qkey" + std::to_string(i), "value");
        return list;
    };
    for (int lines = 30; lines <= 48; lines += 2) {
        CAPTURE(lines);
        // Nine rows are less than a quarter of a page.
        CHECK(counted_on_pages(written(below_lines(lines, {facts(9)})), "qkey") == std::vector<int>{9});
        for (const int count : counted_on_pages(written(below_lines(lines, {facts(16)})), "qkey")) CHECK(count >= 3);
        DataTable table{{{"What", 1.0}, {"How", 1.0}}, {}, ""};
        for (int i = 0; i < 9; ++i) table.rows.push_back({"qrow" + std::to_string(i), "so"});
        const std::vector<Block> summed{Heading{1, "A section"}, Paragraph{"qrow, a summary", Voice::lead}, table};
        CHECK(counted_on_pages(written(below_lines(lines, summed)), "qrow").front() >= 2);
        // Nor does a heading or a summary stand without its facts.
        const std::vector<Block> survey{Heading{2, "A heading"}, Paragraph{"qkey, a summary", Voice::lead}, facts(4)};
        CHECK(counted_on_pages(written(below_lines(lines, survey)), "qkey") == std::vector<int>{5});
    }
}

TEST_CASE("a short table stays whole, and of a long one the last row is not alone", "[pdf]") {
    const auto table = [](int count) {
        DataTable made{{{"No", 1.0}, {"What", 3.0}}, {}, ""};
        for (int i = 0; i < count; ++i) made.rows.push_back({"qrow" + std::to_string(i), "something"});
        return made;
    };
    for (int lines = 30; lines <= 48; lines += 2) {
        CAPTURE(lines);
        CHECK(counted_on_pages(written(below_lines(lines, {table(3)})), "qrow") == std::vector<int>{3});
        CHECK(counted_on_pages(written(below_lines(lines, {table(12)})), "qrow").back() >= 2);
    }
}

TEST_CASE("what cannot be laid out is refused", "[pdf]") {
    Document document;
    document.title = "Bad";
    SECTION("ragged table") {
        document.blocks = {DataTable{{{"a"}, {"b"}}, {{"only one"}}, ""}};
    }
    SECTION("no columns") {
        document.blocks = {DataTable{}};
    }
    SECTION("no pictures") {
        document.blocks = {PictureRow{}};
    }
    SECTION("no size") {
        document.blocks = {PictureRow{.pictures = {test::sample_picture({0, 10}, "")}}};
    }
    CHECK(error_code_of(document) == "pdf.bad-document");
}

TEST_CASE("a picture that cannot be read stops the document with its reason", "[pdf]") {
    Document document;
    document.title = "Lost";
    auto picture = test::sample_picture({100, 100}, "");
    picture.pixels = [](int) -> Expected<imaging::Raster8> { return fail("files.missing", "It is gone."); };
    document.blocks = {PictureRow{.pictures = {picture}}};
    CHECK(error_code_of(document) == "files.missing");
}

TEST_CASE("pictures are asked for at the size they are printed", "[pdf]") {
    Document document;
    document.title = "Size";
    auto picture = test::sample_picture({12000, 9000}, "");
    int asked = 0;
    const auto pixels = picture.pixels;
    picture.pixels = [&asked, pixels](int longest_px) {
        asked = longest_px;
        return pixels(longest_px);
    };
    document.blocks = {PictureRow{.pictures = {picture}}};
    written(document);
    CHECK(asked == 1890);  // 160 mm at 300 to the inch
}

TEST_CASE("painting can be cancelled", "[pdf]") {
    require_gui_application();
    std::stop_source stop;
    stop.request_stop();
    CHECK(write_pdf(test::sample_document(), noon, Progress(stop.get_token(), {})).error().code == "cancelled");
}
