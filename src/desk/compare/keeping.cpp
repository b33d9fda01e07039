#include "compare/keeping.hpp"

#include <QPainter>
#include <algorithm>
#include <nlohmann/json.hpp>

#include "photographs/laying.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/imaging/write_picture.hpp"
#include "tedge/usecases/derived_pictures.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int wanted_width_px = 2400;
constexpr double line_height_px = 20.0;  // on the screen; enlarged with the picture
constexpr double margin_px = 14.0;

imaging::Raster8 raster_of(const QImage& image) {
    const QImage rgb = image.convertToFormat(QImage::Format_RGB888);
    imaging::Raster8 raster(rgb.width(), rgb.height(), 3);
    const auto row_bytes = static_cast<std::ptrdiff_t>(rgb.width()) * 3;
    for (int y = 0; y < rgb.height(); ++y)
        std::copy_n(rgb.constScanLine(y), row_bytes, raster.samples().begin() + y * row_bytes);
    return raster;
}

nlohmann::json recipe_of(const Keeping::Wanted& wanted, casebook::Casebook& book) {
    nlohmann::json files = nlohmann::json::object();
    for (const Uuid& id : wanted.photographs) {
        if (const auto record = book.record(id)) files[to_text(id)] = record->body.text_or("sha256");
    }
    return {{"method", "photographs laid over each other and painted side by side or in one another's place"},
            {"question", plain(wanted.question)},
            {"files", std::move(files)}};
}

}  // namespace

Caption caption_of(const casebook::CaseSnapshot& snapshot, const Comparison& comparison,
                   const casebook::Record& frame) {
    Caption caption{shown(snapshot.picture.body.text_or("title")), {}};
    for (const Uuid& id : comparison.photographs) {
        const casebook::Record* photo = snapshot.find(id);
        if (photo == nullptr) continue;
        QStringList parts{spoken(photo->body.text_or("face")) + QStringLiteral(", ") + name_of(*photo)};
        if (photo->body.has("taken_at")) parts << day_text(photo->body.text_or("taken_at").substr(0, 10));
        if (const auto placement = casebook::placement_on_frame(snapshot, *photo, frame.id))
            parts << QObject::tr("lies to ± %1 mm").arg(shown(format_fixed(placement->error_mm, 2)));
        if (photo->body.has("licence")) parts << shown(photo->body.text_or("licence"));
        caption.lines.push_back(parts.join(QStringLiteral(" · ")));
    }
    return caption;
}

QImage with_caption(const QImage& picture, const Caption& caption, double enlarged) {
    const double line = line_height_px * enlarged;
    const double margin = margin_px * enlarged;
    const double below = (1.0 + static_cast<double>(caption.lines.size())) * line + 2 * margin;
    QImage sheet(picture.width(), picture.height() + static_cast<int>(below), QImage::Format_RGB32);
    sheet.fill(Qt::white);
    QPainter painter(&sheet);
    painter.drawImage(0, 0, picture);
    painter.setPen(Qt::black);
    QFont font = text_font();
    font.setPointSizeF(font.pointSizeF() * enlarged);
    QRectF box(margin, picture.height() + margin, picture.width() - 2 * margin, line);
    const auto write = [&](const QString& text, bool bold) {
        font.setBold(bold);
        painter.setFont(font);
        painter.drawText(box, Qt::AlignLeft | Qt::AlignVCenter,
                         painter.fontMetrics().elidedText(text, Qt::ElideRight, static_cast<int>(box.width())));
        box.translate(0, line);
    };
    write(caption.title, true);
    for (const QString& each : caption.lines) write(each, false);
    return sheet;
}

Keeping::Keeping(BookSession& session, CompareCanvas& canvas, QObject* parent)
    : QObject(parent), session_(session), canvas_(canvas) {
    connect(&canvas_, &CompareCanvas::tiles_arrived, this, &Keeping::paint_when_complete);
}

void Keeping::begin(Wanted wanted) {
    if (running()) return;
    waiting_ = std::move(wanted);
    paint_when_complete();
}

void Keeping::paint_when_complete() {
    if (!waiting_ || canvas_.width() < 1) return;
    const double enlarged = std::max(1.0, static_cast<double>(wanted_width_px) / canvas_.width());
    bool complete = false;
    const QImage picture = canvas_.painted(enlarged, complete);
    if (!complete) return;
    const QImage sheet = with_caption(picture, waiting_->caption, enlarged);
    Wanted wanted = *std::move(waiting_);
    waiting_.reset();
    work_.begin([this, how = session_.how(), wanted = std::move(wanted), sheet](const Progress&) {
        write(how, wanted, sheet);
    });
}

void Keeping::write(const BookSession::Opened& how, const Wanted& wanted, const QImage& image) {
    const auto fault = [this](const Error& error) { work_.tell([this, error] { emit refused(error); }); };
    const auto bytes = imaging::encode_picture(raster_of(image), imaging::PictureFormat::png);
    if (!bytes) return fault(bytes.error());
    if (wanted.file) {
        if (auto written = write_file_durably(*wanted.file, *bytes); !written) return fault(written.error());
        work_.tell([this, name = shown(to_utf8(*wanted.file))] { emit kept(tr("Written to %1.").arg(name), nullptr); });
        return;
    }
    auto opened = open_for_worker(how);
    if (!opened) return fault(opened.error());
    usecases::NewDerivedPicture made;
    made.case_id = wanted.case_id;
    made.what = "comparison";
    for (const Uuid& id : wanted.photographs) made.from_photographs[id] = "compared";
    made.caption = plain(wanted.question);
    const auto kept_picture = usecases::keep_derived_picture({opened->book, opened->author, *how.clock}, made, *bytes,
                                                             recipe_of(wanted, opened->book));
    if (!kept_picture) return fault(kept_picture.error());
    work_.tell([this, k = *kept_picture] {
        emit kept(k.already ? tr("The case has this very picture already.") : tr("Kept with the photographs."),
                  k.already ? nullptr : &k.done);
    });
}

}  // namespace tedge::desk
