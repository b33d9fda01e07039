#include "tedge/dossier/gui_application.hpp"

#include <QGuiApplication>
#include <array>

#if defined(__SANITIZE_ADDRESS__)
// fontconfig keeps what it has read of the fonts to the end of the process; its leaks would drown ours.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() {
    return "leak:libfontconfig\n";
}
#endif

namespace tedge::dossier {

namespace {

// Qt keeps references to argc and argv for as long as the application lives.
struct OffscreenApplication {
    std::array<char, 8> name{"tedge"};
    std::array<char, 12> option{"-platform"};
    std::array<char, 12> value{"offscreen"};
    std::array<char*, 4> arguments{name.data(), option.data(), value.data(), nullptr};
    int count = 3;
    QGuiApplication application{count, arguments.data()};
};

}  // namespace

void require_gui_application() {
    if (QCoreApplication::instance() != nullptr) return;
    // Without a login session Qt grumbles about folders that the offscreen platform never uses.
    const auto handler = qInstallMessageHandler([](QtMsgType, const QMessageLogContext&, const QString&) {});
    // Never destroyed: at exit the order in which Qt's own statics go is not ours to say.
    static const auto* const application = new OffscreenApplication;
    static_cast<void>(application);
    qInstallMessageHandler(handler);
}

}  // namespace tedge::dossier
