#include "screenshots.hpp"

#include <QApplication>
#include <QDir>
#include <QElapsedTimer>

#include "desk_window.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

// Lets workers finish: small pictures and tiles come in by themselves.
void wait(QApplication& application, int ms) {
    QElapsedTimer timer;
    timer.start();
    while (timer.elapsed() < ms) application.processEvents(QEventLoop::AllEvents, 20);
}

void save(QApplication& application, DeskWindow& window, const QString& file) {
    wait(application, 300);
    window.grab().save(file);
}

}  // namespace

int save_screenshots(QApplication& application, DeskWindow& window, const QString& folder) {
    QDir().mkpath(folder);
    const auto cases = window.session().book().cases();
    if (!cases || cases->empty()) return 1;
    window.resize(1440, 900);
    window.show();
    window.rack().choose(cases->front().id);
    wait(application, 15'000);
    for (const auto& [shade, shade_name] : {std::pair{Shade::light, "light"}, std::pair{Shade::dark, "dark"}}) {
        use_theme(application, shade);
        for (const QSize size : {QSize(1440, 900), QSize(1024, 700)}) {
            window.resize(size);
            for (const usecases::Stage stage : usecases::all_stages) {
                window.case_view().show_sheet(stage);
                save(application, window,
                     QStringLiteral("%1/%2-%3-%4.png")
                         .arg(folder, shown(to_text(stage)), QLatin1String(shade_name))
                         .arg(size.width()));
            }
        }
    }
    for (const auto& [shade, shade_name] : {std::pair{Shade::light, "light"}, std::pair{Shade::dark, "dark"}}) {
        use_theme(application, shade);
        for (const QSize size : {QSize(1440, 900), QSize(1024, 640)}) {
            window.resize(size);
            for (const usecases::Stage stage : usecases::all_stages) {
                window.case_view().show_sheet(stage);
                window.case_view().begin_new_record();
                save(application, window,
                     QStringLiteral("%1/%2-form-%3-%4.png")
                         .arg(folder, shown(to_text(stage)), QLatin1String(shade_name))
                         .arg(size.width()));
            }
        }
    }
    use_theme(application, Shade::light);
    window.resize(1440, 900);
    window.session().set_client_looks(true);
    save(application, window, folder + QStringLiteral("/client-in-the-room.png"));
    return 0;
}

}  // namespace tedge::desk
