// A photograph of 108 megapixels on the easel, and four compared: how long a frame takes while they are panned and
// zoomed and while their tiles come in, and how soon the first picture stands there. The baseline is Qt drawing one
// image of the window's size, scaled smoothly; what counts is the tail: 16 ms is a frame of the screen.
//
// bench_easel [folder]   the pyramid is made in the folder once (a minute) and used again
#include <QApplication>
#include <QElapsedTimer>
#include <QPainter>
#include <QTest>
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <vector>

#include "compare/compare_canvas.hpp"
#include "easel/easel.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/imaging/pyramid.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

constexpr SizePx photo{12'000, 9'000};
constexpr SizeMm face{1200, 900};
constexpr QSize window{1440, 900};
constexpr int frames = 60;

// Fine weave under large shapes: every level has something to show.
std::filesystem::path made_pyramid(const std::filesystem::path& folder) {
    std::filesystem::create_directories(folder);
    const auto file = folder / "108-megapixels.pyramid";
    if (std::filesystem::exists(file)) return file;
    imaging::Raster8 raster(photo.width_px, photo.height_px, 3);
    std::uint32_t noise = 1;
    for (int y = 0; y < photo.height_px; ++y) {
        for (int x = 0; x < photo.width_px; ++x) {
            noise = noise * 1664525U + 1013904223U;
            const int weave = ((x % 12 < 6) == (y % 12 < 6)) ? 20 : -20;
            const int tone = 120 + weave + static_cast<int>(noise >> 28U) + (x / 400 + y / 300) % 5 * 10;
            for (int c = 0; c < 3; ++c) raster.at(x, y, c) = static_cast<std::uint8_t>(tone - 15 * c);
        }
    }
    imaging::Picture picture;
    picture.pixels = std::move(raster);
    if (const auto built = imaging::build_pyramid(picture, file); !built) {
        std::fprintf(stderr, "%s\n", built.error().message.c_str());
        std::exit(1);
    }
    return file;
}

// Bent, as registrations are.
Placement bent() {
    Placement plain = placement_filling(photo, face);
    const auto exact = [&](PointPx p) {
        const PointMm q = plain.to_face(p);
        return std::optional(PointMm{q.x_mm + 0.4 * std::sin(q.y_mm / 90.0), q.y_mm + 0.3 * std::cos(q.x_mm / 70.0)});
    };
    const auto along = placement_along(plain.face_from_photo, exact, {{0, 0}, {face.width_mm, face.height_mm}}, 40.0);
    return along ? *along : plain;
}

// A file of its own for each of several, so that none finds the tiles of another.
std::filesystem::path another(const std::filesystem::path& pyramid, int number) {
    auto file = pyramid;
    file.replace_filename(std::to_string(number) + ".pyramid");
    if (!std::filesystem::exists(file)) std::filesystem::create_hard_link(pyramid, file);
    return file;
}

struct Times {
    std::vector<double> ms;
    void print(const char* what, double baseline_ms) {
        if (ms.empty()) return;
        std::ranges::sort(ms);
        const double median = ms[ms.size() / 2];
        const double p95 = ms[ms.size() * 95 / 100];
        std::printf("%-42s median %6.2f ms, 95 %% below %6.2f ms, longest %6.2f ms (%.1f x)\n", what, median, p95,
                    ms.back(), median / baseline_ms);
    }
};

struct Moved {
    Times moving;
    Times arriving;  // frames that are drawn only because more tiles have come
    void print(const char* what, double baseline_ms) {
        moving.print(what, baseline_ms);
        arriving.print("    while tiles come in", baseline_ms);
    }
};

template <class Paint>
double ms_of(Paint paint) {
    QElapsedTimer timer;
    timer.start();
    paint();
    return static_cast<double>(timer.nsecsElapsed()) / 1e6;
}

double baseline_ms() {
    QImage from(window * 2, QImage::Format_RGB32);
    from.fill(Qt::gray);
    QImage to(window, QImage::Format_RGB32);
    Times times;
    for (int i = 0; i < frames; ++i) {
        times.ms.push_back(ms_of([&] {
            QPainter painter(&to);
            painter.setRenderHint(QPainter::SmoothPixmapTransform);
            painter.drawImage(QRectF({0, 0}, window), from, QRectF(i, i, window.width() * 1.9, window.height() * 1.9));
        }));
    }
    std::ranges::sort(times.ms);
    return times.ms[times.ms.size() / 2];
}

// `widget` is painted into an image again and again while `step` moves the view; waits for tiles between.
template <class Widget, class Step>
Moved moving(Widget& widget, Step step) {
    QImage image(window, QImage::Format_RGB32);
    Moved times;
    for (int i = 0; i < frames; ++i) {
        step(i);
        times.moving.ms.push_back(ms_of([&] { widget.render(&image); }));
        for (int wait = 0; wait < 200 && widget.waiting_for_tiles(); ++wait) {
            QTest::qWait(5);
            times.arriving.ms.push_back(ms_of([&] { widget.render(&image); }));
        }
    }
    return times;
}

}  // namespace

int main(int argc, char** argv) {
    qputenv("QT_QPA_PLATFORM", "offscreen");
    const QApplication application(argc, argv);
    const std::filesystem::path folder = argc > 1 ? argv[1] : std::filesystem::temp_directory_path() / "easel-bench";
    const auto pyramid = made_pyramid(folder);
    const ShownPhotograph shown{Uuid{}, pyramid, bent(), photo, QStringLiteral("108 megapixels")};
    const double baseline = baseline_ms();
    std::printf("baseline, one smooth QPainter::drawImage: %.2f ms\n", baseline);

    Easel easel;
    easel.resize(window);
    easel.show_face(face);
    QImage first(window, QImage::Format_RGB32);
    std::printf("first picture of a stored pyramid: %.1f ms\n", ms_of([&] {
                    easel.show_photographs(shown, std::nullopt);
                    do {
                        easel.render(&first);
                        QCoreApplication::processEvents();
                    } while (easel.waiting_for_tiles());
                }));
    moving(easel, [&](int) { easel.zoom_by(1.06); }).print("easel, zooming in", baseline);
    moving(easel, [&](int i) {
        QTest::keyClick(&easel, i % 2 == 0 ? Qt::Key_Right : Qt::Key_Down);
    }).print("easel, panning", baseline);

    CompareCanvas canvas;
    canvas.resize(window);
    std::vector<ComparedPhotograph> four;
    for (int number = 0; number < 4; ++number) {
        four.push_back({shown, false, true});
        four.back().shown.pyramid = another(pyramid, number);
    }
    canvas.show_photographs(face, four);
    moving(canvas, [&](int) { canvas.zoom_by(1.04); }).print("four beside one another, zooming", baseline);
    moving(canvas, [&](int i) {
        QTest::keyClick(&canvas, i % 2 == 0 ? Qt::Key_Right : Qt::Key_Down);
    }).print("four beside one another, panning", baseline);
    moving(canvas, [&](int) { canvas.zoom_by(1 / 1.04); }).print("four beside one another, zooming out", baseline);
    canvas.set_means(Means::half_and_half);
    moving(canvas, [&](int) { canvas.zoom_by(1.01); }).print("half and half, zooming", baseline);
    return 0;
}
