#include "screenshots.hpp"

#include <QApplication>
#include <QDialog>
#include <QDir>
#include <QElapsedTimer>
#include <QPainter>
#include <QTextStream>
#include <functional>
#include <memory>
#include <utility>
#include <vector>

#include "desk_window.hpp"
#include "forms/override_dialog.hpp"
#include "settling/settling_dialog.hpp"
#include "sheets/dossier_pages.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using usecases::Stage;

constexpr int settle_ms = 250;
constexpr int longest_wait_ms = 180'000;

struct Scene {
    QString name;
    std::function<void(DeskWindow&)> set;
    std::function<void(DeskWindow&)> clear = [](DeskWindow&) {};
    // What opens over the window once it has settled. A scene of a dialog that has nothing to ask is not saved.
    std::function<std::unique_ptr<QDialog>(DeskWindow&)> dialog{};
};

bool is_busy(DeskWindow& window) {
    CaseView& view = window.case_view();
    return window.pictures().busy() || view.easel().waiting_for_tiles() || view.sheets().dossier().working();
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

void show_half_and_half(DeskWindow& window) {
    EaselSide& side = window.case_view().easel_side();
    const auto snapshot = window.session().book().snapshot(window.session().book().cases()->front().id);
    std::optional<Uuid> first;
    std::optional<Uuid> last;
    for (const casebook::Record* photo : snapshot->of_kind("photograph")) {
        const bool fits = photo->body.text_or("face") == "recto" && photo->body.text_or("light") == "normal" &&
                          photo->body.has("face_from_photo");
        if (!fits) continue;
        (first ? last : first) = photo->id;
        if (photo->body.text_or("stage") == "cleaned") break;
    }
    window.case_view().show_sheet(Stage::photographs);
    if (first) side.show_photograph(*first);
    if (last) side.set_beside(*last);
}

casebook::CaseSnapshot first_case(DeskWindow& window) {
    return *window.session().book().snapshot(window.session().book().cases()->front().id);
}

std::unique_ptr<QDialog> settling(DeskWindow& window) {
    auto dialog = std::make_unique<SettlingDialog>(window.session(), first_case(window), &window);
    return dialog->boxes().isEmpty() ? nullptr : std::move(dialog);
}

// Gate 22 is asked when the sheet is shown; where it is open there is nothing to pass.
std::unique_ptr<QDialog> passing_gate_22(DeskWindow& window) {
    const auto& closing = window.case_view().sheets().dossier().closing();
    if (closing.empty()) return nullptr;
    return std::make_unique<OverrideDialog>(closing, shown(window.session().how().author), &window);
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
    picture = with_dialog(picture, *dialog);
    return true;
}

std::vector<Scene> scenes() {
    std::vector<Scene> all;
    all.reserve(2 * usecases::all_stages.size() + 6);
    for (const Stage stage : usecases::all_stages) {
        all.push_back({shown(to_text(stage)), [stage](DeskWindow& window) { window.case_view().show_sheet(stage); }});
    }
    for (const Stage stage : usecases::all_stages) {
        all.push_back({shown(to_text(stage)) + QStringLiteral("-form"),
                       [stage](DeskWindow& window) {
                           window.case_view().show_sheet(stage);
                           window.case_view().begin_new_record();
                       },
                       [stage](DeskWindow& window) { window.case_view().sheets().sheet(stage).form().give_up(); }});
    }
    all.push_back({QStringLiteral("half-and-half"), show_half_and_half,
                   [](DeskWindow& window) { window.case_view().easel_side().show_face(Face::recto); }});
    all.push_back({QStringLiteral("verso"),
                   [](DeskWindow& window) {
                       window.case_view().show_sheet(Stage::research);
                       window.case_view().easel_side().show_face(Face::verso);
                   },
                   [](DeskWindow& window) { window.case_view().easel_side().show_face(Face::recto); }});
    all.push_back({QStringLiteral("dossier-pages"), [](DeskWindow& window) {
                       window.case_view().show_sheet(Stage::dossier);
                       window.case_view().sheets().dossier().make();
                   }});
    all.push_back({QStringLiteral("client-in-the-room"),
                   [](DeskWindow& window) {
                       window.case_view().show_sheet(Stage::lot);
                       window.session().set_client_looks(true);
                   },
                   [](DeskWindow& window) { window.session().set_client_looks(false); }});
    all.push_back({QStringLiteral("settling"), [](DeskWindow& window) { window.case_view().show_sheet(Stage::survey); },
                   [](DeskWindow&) {}, settling});
    all.push_back({QStringLiteral("passing-gate-22"),
                   [](DeskWindow& window) {
                       window.case_view().show_sheet(Stage::dossier);
                       window.case_view().sheets().dossier().choose_reader(casebook::Reader::buyer);
                       window.case_view().sheets().dossier().make();
                   },
                   [](DeskWindow&) {}, passing_gate_22});
    return all;
}

}  // namespace

QStringList screenshot_names() {
    QStringList names;
    for (const Scene& scene : scenes()) names << scene.name;
    return names;
}

int save_screenshots(QApplication& application, DeskWindow& window, const ScreenshotsWanted& wanted) {
    for (const QString& name : wanted.only) {
        if (screenshot_names().contains(name)) continue;
        QTextStream(stderr) << "There is no scene \"" << name << "\". Use "
                            << screenshot_names().join(QStringLiteral(", ")) << ".\n";
        return 2;
    }
    const auto cases = window.session().book().cases();
    if (!cases || cases->empty() || !QDir().mkpath(wanted.folder)) return 1;
    window.resize(wanted.size);
    window.show();
    window.rack().choose(cases->front().id);
    for (const Scene& scene : scenes()) {
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
