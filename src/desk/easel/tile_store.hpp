// Tiles of pyramids, decoded off the GUI thread and kept as long as there is room.
#pragma once

#include <QImage>
#include <QObject>
#include <QThreadPool>
#include <atomic>
#include <filesystem>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "tedge/imaging/pyramid.hpp"

namespace tedge::desk {

struct TileKey {
    std::string file;
    int level = 0;
    int column = 0;
    int row = 0;
    friend auto operator<=>(const TileKey&, const TileKey&) = default;
};

class TileStore : public QObject {
    Q_OBJECT

public:
    explicit TileStore(QObject* parent = nullptr);
    ~TileStore() override;

    // nullptr where the pyramid cannot be read.
    [[nodiscard]] const imaging::PyramidReader* reader(const std::filesystem::path& pyramid);
    // The tile when it is there; otherwise null, and it is fetched: the latest asked for come first.
    [[nodiscard]] QImage tile(const std::filesystem::path& pyramid, int level, int column, int row);
    // How many tiles of it have come so far.
    [[nodiscard]] std::uint64_t come_of(const std::filesystem::path& pyramid) const;
    // What is asked for and not begun is no longer wanted (the view has moved on).
    void forget_requests();
    [[nodiscard]] bool busy() const { return !wanted_.empty(); }

signals:
    void tile_arrived();

private:
    void fetch(const TileKey& key);
    void fetch_soon(const TileKey& key);
    std::map<std::string, std::unique_ptr<imaging::PyramidReader>> readers_;
    std::map<TileKey, std::shared_ptr<QImage>> tiles_;
    std::map<TileKey, std::uint64_t> last_used_;
    std::map<std::string, std::uint64_t> come_;
    std::uint64_t use_ = 0;
    std::size_t bytes_ = 0;
    std::set<TileKey> wanted_;
    std::vector<TileKey> to_fetch_;
    std::shared_ptr<std::atomic<std::uint64_t>> generation_ = std::make_shared<std::atomic<std::uint64_t>>(0);
    int priority_ = 0;
    QThreadPool pool_;
    void make_room();
};

}  // namespace tedge::desk
