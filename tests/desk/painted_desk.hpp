// A window over a casebook whose photographs are of one invented painting, so that one can be laid over the other.
#pragma once

#include <QApplication>
#include <QElapsedTimer>
#include <QTest>
#include <catch2/catch.hpp>
#include <memory>
#include <string>

#include "desk_window.hpp"
#include "fixed_sources.hpp"
#include "painted_pair.hpp"
#include "tedge/base/files.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "temporary_folder.hpp"
#include "text.hpp"

namespace tedge::desk {

template <class Condition>
bool comes_true(Condition condition, int within_ms = 60'000) {
    QElapsedTimer timer;
    timer.start();
    while (!condition() && timer.elapsed() < within_ms) QTest::qWait(10);
    return condition();
}

struct PaintedDesk {
    static constexpr SizePx photo_size{420, 320};

    TemporaryFolder folder;
    FixedClock clock;
    CountingIds ids{5};
    Uuid case_id;
    std::unique_ptr<DeskWindow> window;

    // Without a size nobody has measured the picture yet.
    explicit PaintedDesk(std::optional<SizeMm> size = SizeMm{840, 640}) {
        {
            auto book = casebook::Casebook::create(folder / "book", {&clock, &ids}).value();
            const usecases::Acting acting{book, book.person_named("Ada Wren").value(), clock};
            case_id = usecases::open_case(acting, {"River landscape", "", size}).value();
        }
        auto session = BookSession::open({folder / "book", "Ada Wren", &clock, &ids});
        window = std::make_unique<DeskWindow>(std::move(session).value());
        window->resize(1280, 860);
        window->show();
        window->open_case(case_id);
    }

    [[nodiscard]] BookSession& session() { return window->session(); }
    [[nodiscard]] CaseView& view() { return window->case_view(); }
    [[nodiscard]] EaselSide& side() { return view().easel_side(); }
    [[nodiscard]] casebook::CaseSnapshot snapshot() { return session().book().snapshot(case_id).value(); }
    [[nodiscard]] casebook::Body body(const Uuid& id) { return session().book().record(id)->body; }

    std::filesystem::path painted(const std::string& name, std::uint64_t scene,
                                  const test_support::Viewpoint& viewpoint) const {
        using namespace test_support;
        const KnownMove move{seen_from(viewpoint, photo_size, photo_size)};
        const auto pixels = photograph({.seed = scene, .stroke_px = 90.0, .layers = 4}, photo_size, move,
                                       {.noise = 1.5}, scene + name.size(), 2);
        REQUIRE(imaging::write_picture(folder / name, pixels, imaging::PictureFormat::png));
        return folder / name;
    }

    Uuid take_in(const std::filesystem::path& file, Face face = Face::recto, const std::string& light = "normal",
                 const std::string& stage = "as-received") {
        usecases::NewPhotograph wanted;
        wanted.case_id = case_id;
        wanted.file = file;
        wanted.face = face;
        wanted.light = light;
        wanted.stage = stage;
        const Uuid id = usecases::take_in_photograph(session().acting(), wanted).value().id;
        emit session().changed();
        return id;
    }

    // Taken in and placed by its corners, so that it lies in millimetres.
    Uuid placed(const std::string& name) {
        const Uuid id = take_in(painted(name, 3, {}));
        side().show_photograph(id);
        side().begin_placing(false);
        click_corners();
        REQUIRE(body(id).has("face_from_photo"));
        return id;
    }

    // By the mouse, as somebody would: the four corners of what the photograph shows.
    void click_corners(const std::array<PointPx, 4>& corners = {{{0, 0}, {419, 0}, {419, 319}, {0, 319}}}) {
        Easel& easel = view().easel();
        for (const PointPx& corner : corners) {
            const QPointF at = easel.frame().to_screen({corner.x_px + 0.5, corner.y_px + 0.5});
            QTest::mouseClick(&easel, Qt::LeftButton, {}, at.toPoint());
        }
    }
};

}  // namespace tedge::desk
