#include "viewing/viewing_aid_dialog.hpp"

#include <QFormLayout>
#include <QLabel>
#include <QPainter>
#include <QSlider>
#include <QVBoxLayout>

#include "photographs/small_pictures.hpp"
#include "tedge/imaging/pyramid.hpp"
#include "tedge/imaging/viewing_aid.hpp"
#include "tedge/usecases/derived.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr int longest_looked_at_px = 1400;
constexpr int slider_steps = 100;
constexpr int sliding_rests_ms = 60;
constexpr QSize usual_look{980, 760};

Expected<imaging::Raster8> picture_of(const std::filesystem::path& folder, const std::string& sha256,
                                      const Progress& progress) {
    const auto file = usecases::ensure_pyramid(folder, sha256, progress);
    if (!file) return pass_on(file);
    const auto reader = imaging::PyramidReader::open(*file);
    if (!reader) return pass_on(reader);
    return reader->preview(longest_looked_at_px);
}

}  // namespace

ViewingAidDialog::ViewingAidDialog(BookSession& session, const Uuid& photograph, QWidget* parent)
    : QDialog(parent),
      session_(session),
      canvas_(new QWidget(this)),
      told_(new QLabel(tr("Opening the photograph …"), this)),
      work_(new LongWork(this)) {
    setWindowTitle(tr("Through the dirt: a look, no evidence"));
    auto* column = new QVBoxLayout(this);
    canvas_->setMinimumSize(280, 200);
    column->addWidget(canvas_, 1);
    auto* form = new QFormLayout;
    contrast_ = add_slider(*form, tr("&Contrast"), slider_steps / 2);
    tone_ = add_slider(*form, tr("&Tone of dirt and varnish"), slider_steps / 2);
    column->addLayout(form);
    told_->setWordWrap(true);
    told_->setProperty("role", "faded");
    column->addWidget(told_);
    resize(parent != nullptr ? usual_look.boundedTo(parent->window()->size()) : usual_look);
    pause_.setSingleShot(true);
    pause_.setInterval(sliding_rests_ms);
    connect(&pause_, &QTimer::timeout, this, &ViewingAidDialog::look);
    connect(work_, &LongWork::finished, this, [this] {
        if (moved_meanwhile_ || image_.isNull()) return look();
        emit looked();
    });
    open(photograph);
}

QSlider* ViewingAidDialog::add_slider(QFormLayout& form, const QString& name, int at) {
    auto* slider = new QSlider(Qt::Horizontal, this);
    slider->setRange(0, slider_steps);
    slider->setValue(at);
    slider->setAccessibleName(QString(name).remove(u'&'));
    connect(slider, &QSlider::valueChanged, &pause_, qOverload<>(&QTimer::start));
    form.addRow(name, slider);
    return slider;
}

void ViewingAidDialog::tell(const QString& text) {
    told_->setText(text);
}

void ViewingAidDialog::open(const Uuid& photograph) {
    const auto record = session_.book().record(photograph);
    if (!record) return tell(shown(record.error().message + " " + record.error().next));
    work_->begin(
        [this, folder = session_.book().folder(), sha256 = record->body.text_or("sha256")](const Progress& progress) {
            auto picture = picture_of(folder, sha256, progress);
            work_->tell([this, picture = std::move(picture)] {
                if (!picture) return tell(shown(picture.error().message + " " + picture.error().next));
                picture_ = std::make_shared<const imaging::Raster8>(*picture);
                tell(tr("It guesses what dirt and varnish hide. Nothing of it is kept, and nothing may rest on it."));
            });
        });
}

void ViewingAidDialog::look() {
    moved_meanwhile_ = work_->running();
    if (moved_meanwhile_ || !picture_) return;
    const imaging::ViewingAid wanted{contrast_->value() / static_cast<double>(slider_steps),
                                     tone_->value() / static_cast<double>(slider_steps)};
    work_->begin([this, picture = picture_, wanted](const Progress&) {
        const auto made = imaging::viewing_aid(*picture, wanted);
        work_->tell([this, image = made ? to_image(*made) : QImage(),
                     why = made ? QString() : shown(made.error().message + " " + made.error().next)] {
            if (!why.isEmpty()) {
                picture_.reset();
                return tell(why);
            }
            image_ = image;
            update();
        });
    });
}

void ViewingAidDialog::paintEvent(QPaintEvent* event) {
    QDialog::paintEvent(event);
    QPainter painter(this);
    paint_fitted(painter, canvas_->geometry(), image_);
}

}  // namespace tedge::desk
