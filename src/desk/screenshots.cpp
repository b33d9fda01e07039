#include "screenshots.hpp"

#include <QApplication>
#include <QDir>
#include <QElapsedTimer>
#include <QTextStream>
#include <functional>
#include <utility>
#include <vector>

#include "desk_window.hpp"
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

std::vector<Scene> scenes() {
    std::vector<Scene> all;
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
        scene.set(window);
        wait(application, window);
        const QString file = QStringLiteral("%1/%2%3.png").arg(wanted.folder, scene.name, wanted.ending);
        if (!window.grab().save(file)) return 1;
        scene.clear(window);
    }
    return 0;
}

}  // namespace tedge::desk
