// How a page looks: measures, faces, colours. The unit of layout is the dot of the PDF painter, 1/1200 inch.
#pragma once

#include <QColor>
#include <QFont>
#include <QRectF>
#include <mutex>

#include "tedge/base/error.hpp"
#include "tedge/dossier/document.hpp"

namespace tedge::dossier::page {

inline constexpr int dots_per_inch = 1200;
[[nodiscard]] constexpr double pt(double points) {
    return points * dots_per_inch / 72.0;
}
[[nodiscard]] constexpr double mm(double millimetres) {
    return millimetres * dots_per_inch / 25.4;
}

// A4, ISO 216.
inline constexpr double paper_width = mm(210.0);
inline constexpr double paper_height = mm(297.0);
inline const QRectF frame(mm(25.0), mm(32.0), mm(160.0), mm(238.0));  // what blocks may fill
inline constexpr int least_lines_apart = 2;         // no line of a paragraph or a row stands alone on a page
inline constexpr double reading_width = mm(128.0);  // of running text: some 75 letters a line

namespace colour {
inline const QColor ink(0x23, 0x26, 0x2B);
inline const QColor quiet(0x6A, 0x6B, 0x6C);
inline const QColor rule(0xD8, 0xD4, 0xCC);
inline const QColor verdigris(0x2F, 0x7D, 0x6B);
inline const QColor ochre(0xB7, 0x79, 0x1F);
inline const QColor madder(0x9B, 0x2C, 0x3B);
[[nodiscard]] QColor of(Tone tone);
}  // namespace colour

// A face with the leading it is set on.
struct Type {
    QFont font;
    double leading = 0.0;
    QColor colour = colour::ink;
};

struct Types {
    Type title, subtitle, kicker;
    Type section, subsection, minor;
    Type body, lead, quiet;
    Type label, cell, cell_head, caption, running, disc;

    static Types make();
};

// Open Sans has figures of one width, so columns of numbers stand under each other.
// Errors: pdf.no-font.
[[nodiscard]] Expected<void> check_fonts();

// Fonts and painters of one program are shared: who writes pages holds this, and the next waits.
[[nodiscard]] std::unique_lock<std::mutex> take_turn();

}  // namespace tedge::dossier::page
