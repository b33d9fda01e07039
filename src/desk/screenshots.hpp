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
    QString ending;       // of the names, before ".png": "-dark"
    QStringList only;     // names of scenes; empty: all of them
    QString photographs;  // a folder of files for the scene of the intake; "": left out
};

// Names of the scenes: each sheet ("lot", "survey" …) and its form, then what is compared, opened and asked;
// "settling" and "passing-gate-22" are saved where the case has something told differently or withheld.
[[nodiscard]] QStringList screenshot_names(const QString& photographs);

// PNGs of the first case in the theme that is on. Returns the exit code.
int save_screenshots(QApplication& application, DeskWindow& window, const ScreenshotsWanted& wanted);

}  // namespace tedge::desk
