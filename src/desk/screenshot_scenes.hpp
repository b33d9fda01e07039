// What the walk through the desk stops at.
#pragma once

#include <QDialog>
#include <QString>
#include <functional>
#include <memory>
#include <vector>

namespace tedge::desk {

class DeskWindow;

struct Scene {
    QString name;
    std::function<void(DeskWindow&)> set;
    std::function<void(DeskWindow&)> clear = [](DeskWindow&) {};
    // What opens over the window once it has settled. A scene of a dialog that has nothing to ask is not saved.
    std::function<std::unique_ptr<QDialog>(DeskWindow&)> dialog{};
};

// `photographs`: a folder of files that wait to be taken in; "" for none.
[[nodiscard]] std::vector<Scene> scenes(const QString& photographs);

}  // namespace tedge::desk
