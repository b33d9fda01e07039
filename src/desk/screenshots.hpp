// Walks the desk and saves what it shows: for the guide, and for looking at.
#pragma once

#include <QSize>
#include <QString>
#include <QStringList>

class QApplication;

namespace tedge::desk {

class DeskWindow;

struct ScreenshotsWanted {
    QString folder;
    QSize size{1440, 900};
    QString ending;    // of the names, before ".png": "-dark"
    QStringList only;  // names of scenes; empty: all of them
};

// Names of the scenes: each sheet ("lot", "survey" …) and its form, then "half-and-half", "verso", "dossier-pages" and
// "client-in-the-room"; "settling" and "passing-gate-22" where the case has something told differently or withheld.
[[nodiscard]] QStringList screenshot_names();

// PNGs of the first case in the theme that is on. Returns the exit code.
int save_screenshots(QApplication& application, DeskWindow& window, const ScreenshotsWanted& wanted);

}  // namespace tedge::desk
