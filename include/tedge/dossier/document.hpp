// A document for people, as plain values: what stands in it and in which order, not where on which page.
//
// Texts are UTF-8; a line end in a text begins a new line. Pictures bring their pixels when they are painted, at the
// size they are printed, so that a document of many photographs does not hold them all.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "tedge/base/error.hpp"
#include "tedge/geometry/coordinates.hpp"
#include "tedge/imaging/raster.hpp"

namespace tedge::dossier {

// Level 1 opens a section and stands in the contents; 2 and 3 below it stand in the bookmarks alone.
struct Heading {
    int level = 1;
    std::string text{};
};

enum class Voice { body, lead, quiet };  // lead: the answer a section opens on; quiet: asides, sources

struct Paragraph {
    std::string text{};
    Voice voice = Voice::body;
};

struct KeyValues {
    std::vector<std::pair<std::string, std::string>> rows{};
};

enum class Align { left, right };

struct Column {
    std::string title{};
    double share = 1.0;  // of the width, against the other columns
    Align align = Align::left;
};

struct DataTable {
    std::vector<Column> columns{};
    std::vector<std::vector<std::string>> rows{};  // each as long as columns
    std::string caption{};
};

// The table without columns that hold nothing in any row: an empty column only makes the others narrow.
[[nodiscard]] DataTable without_empty_columns(DataTable table);

enum class Tone { plain, caution, closed };  // closed: what is unstable, refused or unfinished

// A place drawn over a picture: its outline and, where given, its number in a small disc. Pixels of Picture::size,
// pixel centres at integers.
struct PictureMark {
    std::vector<std::vector<PointPx>> rings{};
    std::vector<std::vector<PointPx>> lines{};
    std::vector<PointPx> points{};
    std::optional<PointPx> label_at{};
    std::string label{};
    Tone tone = Tone::plain;
};

// sRGB, three channels or one, longest side not above what is asked (smaller originals come as they are).
using PixelSource = std::function<Expected<imaging::Raster8>(int longest_side_px)>;

struct Picture {
    SizePx size;  // of the photograph; its shape is that of the print
    PixelSource pixels{};
    std::string caption{};
    std::vector<PictureMark> marks{};
    std::optional<double> px_per_mm{};  // of `size`; where known a scale bar is drawn under the picture
};

// Side by side at one height. A row keeps its captions on the page of its pictures.
struct PictureRow {
    std::vector<Picture> pictures{};  // at least one
    int columns = 0;                  // 0: as many as pictures; more leaves room to the right, so that rows line up
    double max_height_mm = 150.0;
    std::string caption{};  // of the row as a whole
};

struct Note {
    Tone tone = Tone::plain;
    std::string title{};  // may be empty
    std::string text{};
};

struct PageBreak {};

using Block = std::variant<Heading, Paragraph, KeyValues, DataTable, PictureRow, Note, PageBreak>;

struct TitlePage {
    std::string kicker{};              // what this is: "Dossier for the buyer"
    std::string title{};               // of the picture
    std::string subtitle{};            // maker and date, as claimed
    std::vector<std::string> facts{};  // a line each
    std::optional<Picture> picture{};
    std::vector<std::string> imprint{};  // at the foot: who made it, when
};

struct Document {
    std::string title{};         // in the metadata
    std::string running_head{};  // at the top of each page but the first
    std::string running_note{};  // there, to the right
    std::string language = "en-GB";
    TitlePage title_page{};
    // A letter, not a book: the title stands above the first block, and there is no list of contents. A picture and an
    // imprint have no place there.
    bool begins_below_title = false;
    std::vector<Block> blocks{};
};

}  // namespace tedge::dossier
