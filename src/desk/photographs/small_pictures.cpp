#include "photographs/small_pictures.hpp"

#include <QMetaObject>
#include <QPainter>
#include <QPointer>

#include "tedge/imaging/pyramid.hpp"
#include "tedge/usecases/derived.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int longest_side_px = 256;

QImage make_small(const std::filesystem::path& folder, const std::string& sha256, const std::stop_token& stop) {
    const auto file = usecases::ensure_pyramid(folder, sha256, Progress(stop, {}));
    if (!file) return {};
    const auto reader = imaging::PyramidReader::open(*file);
    if (!reader) return {};
    const auto small = reader->preview(longest_side_px);
    return small ? to_image(*small) : QImage();
}

}  // namespace

QImage to_image(const imaging::Raster8& raster) {
    QImage image(raster.width_px(), raster.height_px(), QImage::Format_RGB32);
    for (int y = 0; y < raster.height_px(); ++y) {
        const std::uint8_t* from = raster.row(y);
        auto* to = reinterpret_cast<QRgb*>(image.scanLine(y));
        const int channels = raster.channels();
        for (int x = 0; x < raster.width_px(); ++x, from += channels) {
            to[x] = channels == 1 ? qRgb(from[0], from[0], from[0]) : qRgb(from[0], from[1], from[2]);
        }
    }
    return image;
}

SmallPictures::SmallPictures(BookSession& session, QObject* parent) : QObject(parent), session_(session) {
    pool_.setMaxThreadCount(1);  // a large picture needs much memory while it is decoded
}

SmallPictures::~SmallPictures() {
    stop_.request_stop();
    pool_.clear();
    pool_.waitForDone();
}

QImage SmallPictures::of(const Uuid& photograph) {
    const auto found = images_.find(photograph);
    if (found != images_.end()) return found->second;
    ask_for(photograph);
    return {};
}

void SmallPictures::ask_for(const Uuid& photograph) {
    if (!asked_.insert(photograph).second) return;
    const auto record = session_.book().record(photograph);
    if (!record) return;
    const std::string sha256 = record->body.text_or("sha256");
    const std::filesystem::path folder = session_.book().folder();
    pool_.start([this, photograph, sha256, folder, stop = stop_.get_token()] {
        const QImage image = make_small(folder, sha256, stop);
        if (stop.stop_requested()) return;
        QMetaObject::invokeMethod(this, [this, photograph, image] {
            images_[photograph] = image;
            emit arrived(photograph);
        });
    });
}

void paint_fitted(QPainter& painter, const QRect& into, const QImage& image) {
    painter.fillRect(into, picture_surround);
    if (image.isNull()) return;
    QRect at(QPoint(), image.size().scaled(into.size(), Qt::KeepAspectRatio));
    at.moveCenter(into.center());
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    painter.drawImage(at, image);
}

}  // namespace tedge::desk
