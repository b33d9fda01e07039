// Colours by meaning, in a light and a dark table, and the type. One accent; status is told by word and shape as well.
#pragma once

#include <QColor>
#include <QFont>
#include <QString>

class QApplication;
class QLabel;

namespace tedge::desk {

struct Theme {
    QColor paper;      // the ground of windows
    QColor sheet;      // the ground of cards and fields
    QColor ink;        // text
    QColor faded_ink;  // what stands second
    QColor rule;       // lines that only part one thing from another
    QColor edge;       // the outline by which a control is known: WCAG 2.1, 1.4.11, asks 3 to 1 of it
    QColor done;       // verdigris: what is done, and the one act of a sheet
    QColor on_done;    // text on it
    QColor warning;    // ochre
    QColor closed;     // madder
    QString shade;     // "light" or "dark": which pictures of arrows and ticks fit
};

[[nodiscard]] const Theme& light_theme();
[[nodiscard]] const Theme& dark_theme();
// The one in use.
[[nodiscard]] const Theme& theme();

// Always around pictures, whatever the theme: neutral, so that colours are seen as they are.
inline const QColor picture_surround(0x80, 0x80, 0x80);

// Open Sans, whose figures are tabular.
[[nodiscard]] QFont text_font();
[[nodiscard]] QFont heading_font();

// Text in the colour of its role: "plain", "faded", "done", "warning" or "closed".
void say_in(QLabel& label, const QString& text, const char* role);

enum class Shade { light, dark };
void use_theme(QApplication& application, Shade shade);

}  // namespace tedge::desk
