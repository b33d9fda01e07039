#include "photographs/watched_folder.hpp"

#include "photographs/intake.hpp"
#include "tedge/base/files.hpp"
#include "tedge/usecases/take_in_folder.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

// Between two looks; a camera that writes on meanwhile has changed the size of its file.
constexpr int settle_ms = 700;

}  // namespace

WatchedFolder::WatchedFolder(QObject* parent) : QObject(parent) {
    settle_.setInterval(settle_ms);
    connect(&settle_, &QTimer::timeout, this, &WatchedFolder::look);
    // Not every file system tells of changes: the timer goes on looking.
    connect(&watcher_, &QFileSystemWatcher::directoryChanged, this, &WatchedFolder::look);
}

void WatchedFolder::watch(const std::filesystem::path& folder) {
    stop();
    folder_ = folder;
    watching_ = true;
    const auto there = usecases::sizes_in(folder);
    if (!there) return look();
    files_ = usecases::SettledFiles(*there);
    watcher_.addPath(shown(to_utf8(folder)));
    settle_.start();
}

void WatchedFolder::stop() {
    settle_.stop();
    if (!watcher_.directories().isEmpty()) watcher_.removePaths(watcher_.directories());
    watching_ = false;
}

void WatchedFolder::look() {
    const auto there = usecases::sizes_in(folder_);
    if (!there) {
        stop();
        emit stopped(shown(there.error().message + " " + there.error().next));
        return;
    }
    for (const auto& file : files_.settled(*there)) {
        if (watching_ && usecases::may_be_a_picture(file)) emit came(file);
    }
}

}  // namespace tedge::desk
