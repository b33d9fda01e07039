// Walks the desk and saves what it shows: for the guide, and for looking at.
#pragma once

#include <QString>

class QApplication;

namespace tedge::desk {

class DeskWindow;

// PNGs of every sheet of the first case, large and small, light and dark, into a folder. Returns the exit code.
int save_screenshots(QApplication& application, DeskWindow& window, const QString& folder);

}  // namespace tedge::desk
