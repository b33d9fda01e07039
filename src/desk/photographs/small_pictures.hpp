// Small pictures of photographs, made off the GUI thread from their pyramids, kept for the session.
#pragma once

#include <QImage>
#include <QObject>
#include <QThreadPool>
#include <map>
#include <set>
#include <stop_token>

#include "book_session.hpp"
#include "tedge/imaging/raster.hpp"

class QPainter;
class QRect;

namespace tedge::desk {

class SmallPictures : public QObject {
    Q_OBJECT

public:
    explicit SmallPictures(BookSession& session, QObject* parent = nullptr);
    ~SmallPictures() override;

    // What is there; where nothing is, it is asked for and `arrived` tells of it.
    [[nodiscard]] QImage of(const Uuid& photograph);
    [[nodiscard]] bool busy() const { return images_.size() < asked_.size(); }

signals:
    void arrived(const tedge::Uuid& photograph);

private:
    void ask_for(const Uuid& photograph);
    BookSession& session_;
    std::map<Uuid, QImage> images_;
    std::set<Uuid> asked_;
    QThreadPool pool_;
    std::stop_source stop_;
};

// Three bytes a pixel, copied.
[[nodiscard]] QImage to_image(const imaging::Raster8& raster);

// As large as it goes into the box, in the middle, on the surround of pictures; the surround alone while there is none.
void paint_fitted(QPainter& painter, const QRect& into, const QImage& image);

}  // namespace tedge::desk
