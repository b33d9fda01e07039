// The one place that creates a QGuiApplication for programs without a window of their own.
#pragma once

namespace tedge::dossier {

// Fonts and the PDF painter need an application object of Qt. Where there is none yet (the command line, tests) one is
// made on the offscreen platform and kept to the end of the process; where the desk has one, nothing happens.
// Call it on the main thread before the first dossier is written. Asks for no display.
void require_gui_application();

}  // namespace tedge::dossier
