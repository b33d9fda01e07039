#include "easel/tile_store.hpp"

#include <QMetaObject>
#include <algorithm>
#include <utility>

#include "photographs/small_pictures.hpp"
#include "tedge/base/files.hpp"

namespace tedge::desk {

namespace {

constexpr std::size_t budget_bytes = 256UL * 1024 * 1024;

}  // namespace

TileStore::TileStore(QObject* parent) : QObject(parent) {
    pool_.setMaxThreadCount(2);
}

TileStore::~TileStore() {
    ++*generation_;
    pool_.clear();
    pool_.waitForDone();
}

const imaging::PyramidReader* TileStore::reader(const std::filesystem::path& pyramid) {
    auto& slot = readers_[to_utf8(pyramid)];
    if (!slot) {
        auto opened = imaging::PyramidReader::open(pyramid);
        if (!opened) return nullptr;
        slot = std::make_unique<imaging::PyramidReader>(*std::move(opened));
    }
    return slot.get();
}

QImage TileStore::tile(const std::filesystem::path& pyramid, int level, int column, int row) {
    const TileKey key{to_utf8(pyramid), level, column, row};
    const auto found = tiles_.find(key);
    if (found != tiles_.end()) {
        last_used_[key] = ++use_;
        return *found->second;
    }
    if (wanted_.insert(key).second) fetch_soon(key);
    return {};
}

std::uint64_t TileStore::come_of(const std::filesystem::path& pyramid) const {
    const auto found = come_.find(to_utf8(pyramid));
    return found == come_.end() ? 0 : found->second;
}

void TileStore::forget_requests() {
    ++*generation_;
    pool_.clear();
    wanted_.clear();
    to_fetch_.clear();
}

// After the frame that asks for it: decoding would take the processors that this frame is drawn by.
void TileStore::fetch_soon(const TileKey& key) {
    to_fetch_.push_back(key);
    if (to_fetch_.size() > 1) return;
    QMetaObject::invokeMethod(
        this,
        [this] {
            for (const TileKey& each : std::exchange(to_fetch_, {})) fetch(each);
        },
        Qt::QueuedConnection);
}

void TileStore::fetch(const TileKey& key) {
    const imaging::PyramidReader* from = reader(path_from_utf8(key.file));
    if (from == nullptr) return;
    const std::uint64_t asked_in = *generation_;
    pool_.start(
        [this, key, reader = *from, generation = generation_, asked_in] {
            if (*generation != asked_in) return;
            const auto raster = reader.tile(key.level, key.column, key.row);
            const QImage image = raster ? to_image(*raster) : QImage();
            QMetaObject::invokeMethod(this, [this, key, image, asked_in] {
                if (*generation_ == asked_in) wanted_.erase(key);
                if (image.isNull()) return;
                if (tiles_.emplace(key, std::make_shared<QImage>(image)).second)
                    bytes_ += static_cast<std::size_t>(image.sizeInBytes());
                last_used_[key] = ++use_;
                ++come_[key.file];
                make_room();
                emit tile_arrived();
            });
        },
        ++priority_);
}

void TileStore::make_room() {
    while (bytes_ > budget_bytes && tiles_.size() > 1) {
        const auto oldest = std::ranges::min_element(last_used_, {}, [](const auto& entry) { return entry.second; });
        bytes_ -= static_cast<std::size_t>(tiles_.at(oldest->first)->sizeInBytes());
        tiles_.erase(oldest->first);
        last_used_.erase(oldest);
    }
}

}  // namespace tedge::desk
