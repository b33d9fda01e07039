// A folder into which a camera writes: tells of each new picture once it is whole.
#pragma once

#include <QFileSystemWatcher>
#include <QObject>
#include <QTimer>
#include <filesystem>

#include "tedge/usecases/settled_files.hpp"

namespace tedge::desk {

class WatchedFolder : public QObject {
    Q_OBJECT

public:
    explicit WatchedFolder(QObject* parent = nullptr);
    // What lies there already stays; a folder watched before is let go.
    void watch(const std::filesystem::path& folder);
    void stop();
    [[nodiscard]] bool watching() const { return watching_; }

signals:
    void came(const std::filesystem::path& file);
    void stopped(const QString& why);  // by itself: the folder is gone

private:
    void look();
    std::filesystem::path folder_;
    bool watching_ = false;
    usecases::SettledFiles files_;
    QFileSystemWatcher watcher_;
    QTimer settle_;
};

}  // namespace tedge::desk
