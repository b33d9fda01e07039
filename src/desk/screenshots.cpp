#include "screenshots.hpp"

#include <QApplication>
#include <QDialog>
#include <QDir>
#include <QElapsedTimer>
#include <QPainter>
#include <QTextStream>
#include <memory>
#include <utility>
#include <vector>

#include "desk_window.hpp"
#include "saleday/cards_dialog.hpp"
#include "screenshot_scenes.hpp"
#include "sheets/dossier_pages.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr int settle_ms = 250;
constexpr int longest_wait_ms = 180'000;

bool is_busy(DeskWindow& window) {
    CaseView& view = window.case_view();
    return window.pictures().busy() || view.easel().waiting_for_tiles() || view.sheets().dossier().working() ||
           view.easel_side().difference().running();
}

// Lets workers finish: small pictures, tiles and pages come in by themselves.
void wait(QApplication& application, DeskWindow& window) {
    QElapsedTimer since_busy;
    QElapsedTimer all;
    since_busy.start();
    all.start();
    while (since_busy.elapsed() < settle_ms && all.elapsed() < longest_wait_ms) {
        application.processEvents(QEventLoop::AllEvents, 20);
        if (is_busy(window)) since_busy.restart();
    }
}

QPixmap with_dialog(const QPixmap& behind, QDialog& dialog) {
    QPixmap picture = behind;
    QPainter painter(&picture);
    painter.fillRect(picture.rect(), QColor(0, 0, 0, 90));
    const QPoint corner((picture.width() - dialog.width()) / 2, (picture.height() - dialog.height()) / 2);
    painter.drawPixmap(corner, dialog.grab());
    return picture;
}

// False where the scene has nothing to show.
bool take(QApplication& application, DeskWindow& window, const Scene& scene, QPixmap& picture) {
    scene.set(window);
    wait(application, window);
    picture = window.grab();
    if (!scene.dialog) return true;
    const auto dialog = scene.dialog(window);
    if (!dialog) return false;
    dialog->show();
    wait(application, window);
    if (const auto* cards = qobject_cast<CardsDialog*>(dialog.get())) {
        while (cards->is_busy()) wait(application, window);
    }
    picture = with_dialog(picture, *dialog);
    return true;
}

}  // namespace

QStringList screenshot_names(const QString& photographs) {
    QStringList names;
    for (const Scene& scene : scenes(photographs)) names << scene.name;
    return names;
}

int save_screenshots(QApplication& application, DeskWindow& window, const ScreenshotsWanted& wanted) {
    for (const QString& name : wanted.only) {
        if (screenshot_names(wanted.photographs).contains(name)) continue;
        QTextStream(stderr) << "There is no scene \"" << name << "\". Use "
                            << screenshot_names(wanted.photographs).join(QStringLiteral(", ")) << ".\n";
        return 2;
    }
    const auto cases = window.session().book().cases();
    if (!cases || cases->empty() || !QDir().mkpath(wanted.folder)) return 1;
    window.resize(wanted.size);
    window.show();
    window.rack().choose(cases->front().id);
    for (const Scene& scene : scenes(wanted.photographs)) {
        if (!wanted.only.isEmpty() && !wanted.only.contains(scene.name)) continue;
        QPixmap picture;
        const bool shows = take(application, window, scene, picture);
        const QString file = QStringLiteral("%1/%2%3.png").arg(wanted.folder, scene.name, wanted.ending);
        if (shows && !picture.save(file)) return 1;
        scene.clear(window);
    }
    return 0;
}

}  // namespace tedge::desk
