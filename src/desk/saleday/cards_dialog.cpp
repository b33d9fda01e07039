#include "saleday/cards_dialog.hpp"

#include <QButtonGroup>
#include <QFileDialog>
#include <QHBoxLayout>
#include <QLabel>
#include <QPrintDialog>
#include <QPrinter>
#include <QPushButton>
#include <QTemporaryDir>
#include <QVBoxLayout>
#include <algorithm>

#include "forms/entries/entry.hpp"
#include "forms/local_time.hpp"
#include "sheets/dossier_work.hpp"
#include "tedge/base/files.hpp"
#include "tedge/dossier/gui_application.hpp"
#include "tedge/usecases/ceilings.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr QSize cards_size{1080, 700};
constexpr double width_to_height = 105.0 / 148.0;  // A6
constexpr int least_side_px = 120;

QString side_name(std::size_t side) {
    switch (side) {
        case 0:
            return QObject::tr("For the pocket: may be seen");
        case 1:
            return QObject::tr("For the desk: stays at home");
        default:
            return QObject::tr("Its back: what was assumed");
    }
}

// The three sides, one behind the other.
Expected<std::vector<std::string>> drawn_sides(const casebook::CaseSnapshot& snapshot, dossier::CardGround ground) {
    const auto cards = usecases::bid_cards(snapshot);
    if (!cards) return pass_on(cards);
    dossier::require_gui_application();
    auto sides = dossier::card_pngs(cards->pocket, ground);
    if (!sides) return sides;
    auto desk = dossier::card_pngs(cards->desk, ground);
    if (!desk) return desk;
    for (std::string& side : *desk) sides->push_back(std::move(side));
    return sides;
}

}  // namespace

CardsDialog::CardsDialog(BookSession& session, const casebook::CaseSnapshot& snapshot, QWidget* parent)
    : SaleDialog(session, tr("Cards for the sale"), cards_size, parent),
      snapshot_(snapshot),
      ground_(dossier::CardGround::light),
      standing_(new QLabel(this)),
      previews_(new QWidget(this)),
      light_(new QPushButton(tr("On &light ground"), this)),
      dark_(new QPushButton(tr("On dar&k ground"), this)) {
    build();
    add_acts();
    draw();
}

void CardsDialog::build() {
    standing_->setWordWrap(true);
    body().addWidget(standing_);
    const auto fixed = usecases::ceiling_standing(snapshot_);
    if (fixed && fixed->limit) {
        const auto lots = snapshot_.of_kind("lot");
        const QString zone = lots.empty() ? QString() : shown(lots.back()->body.text_or("sale_zone"));
        QStringList said{tr("Limit %1, fixed %2%3.")
                             .arg(shown(to_display_text(*fixed->limit)), local_text_with_zone(fixed->fixed_at, zone),
                                  fixed->fixed_by.empty() ? QString() : tr(" by %1").arg(shown(fixed->fixed_by)))};
        if (fixed->out_of_date()) {
            for (const usecases::LearntSince& each : fixed->since) said << QStringLiteral("△ ") + shown(each.sentence);
            said << tr("△ The limit is out of date: reckon again and fix it anew before these cards are taken along.");
        }
        say_in(*standing_, said.join(u'\n'), fixed->out_of_date() ? "warning" : "plain");
    }
    auto* row = new QHBoxLayout(previews_);
    row->setContentsMargins(0, 0, 0, 0);
    for (std::size_t side = 0; side < shown_.size(); ++side) {
        auto* column = new QVBoxLayout;
        named_[side] = new QLabel(side_name(side), previews_);
        named_[side]->setWordWrap(true);
        named_[side]->setProperty("role", side == 0 ? "plain" : "warning");
        shown_[side] = new QLabel(previews_);
        shown_[side]->setMinimumSize(least_side_px, least_side_px);
        shown_[side]->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Ignored);
        shown_[side]->setAlignment(Qt::AlignTop | Qt::AlignLeft);
        shown_[side]->setAccessibleName(side_name(side));
        column->addWidget(named_[side]);
        column->addWidget(shown_[side], 1);
        row->addLayout(column, 1);
    }
    body().addWidget(previews_, 1);
    connect(&work_, &LongWork::finished, this, [this] {
        for (QPushButton* each : needs_cards_) each->setEnabled(has_cards());
        if (!needs_cards_.front()->isHidden() && replace_->isHidden()) needs_cards_.front()->setFocus();
    });
}

void CardsDialog::add_acts() {
    auto* grounds = new QButtonGroup(this);
    for (QPushButton* each : {light_, dark_}) {
        each->setCheckable(true);
        each->setAutoDefault(false);
        each->setMinimumHeight(target_px);
        grounds->addButton(each);
        add_beside_acts(each);
    }
    light_->setChecked(true);
    connect(light_, &QPushButton::clicked, this, [this] { show_ground(dossier::CardGround::light); });
    connect(dark_, &QPushButton::clicked, this, [this] { show_ground(dossier::CardGround::dark); });
    QPushButton* save = add_act(tr("&Save as PDF and PNG …"), [this] { ask_for_folder(); });
    save->setProperty("act", "main");
    needs_cards_ = {save, add_act(tr("Print for the &pocket …"), [this] { ask_for_printer(Card::pocket); }),
                    add_act(tr("Print for the &desk …"), [this] { ask_for_printer(Card::desk); })};
    for (QPushButton* each : needs_cards_) each->setEnabled(false);
    replace_ = add_act(tr("&Replace the old cards"), [this] { save_into(folder_, usecases::OldCards::are_replaced); });
    replace_->setProperty("act", "warning");
    replace_->hide();
}

void CardsDialog::show_ground(dossier::CardGround ground) {
    ground_ = ground;
    (ground == dossier::CardGround::dark ? dark_ : light_)->setChecked(true);
    draw();
}

void CardsDialog::draw() {
    if (work_.running()) return;
    work_.begin([this, snapshot = snapshot_, ground = ground_](const Progress&) {
        work_.tell([this, ground, pngs = drawn_sides(snapshot, ground)] {
            show_drawn(pngs);
            if (ground != ground_) QMetaObject::invokeMethod(this, [this] { draw(); }, Qt::QueuedConnection);
        });
    });
}

void CardsDialog::show_drawn(const Expected<std::vector<std::string>>& pngs) {
    if (!pngs) return show_refusal(pngs.error());
    for (std::size_t side = 0; side < sides_.size() && side < pngs->size(); ++side) {
        const std::string& bytes = (*pngs)[side];
        sides_[side].loadFromData(reinterpret_cast<const uchar*>(bytes.data()), static_cast<uint>(bytes.size()), "PNG");
    }
    fit_sides();
    emit drawn();
}

// Nothing to take along: why, and nothing that could be pressed.
void CardsDialog::show_refusal(const Error& error) {
    previews_->hide();
    standing_->hide();
    for (QPushButton* each : needs_cards_) each->hide();
    light_->hide();
    dark_->hide();
    body().addStretch(1);
    say_error(error);
    emit drawn();
}

void CardsDialog::resizeEvent(QResizeEvent* event) {
    SaleDialog::resizeEvent(event);
    fit_sides();
}

void CardsDialog::fit_sides() {
    for (std::size_t side = 0; side < sides_.size(); ++side) {
        if (sides_[side].isNull()) continue;
        const QSize room = shown_[side]->size() * devicePixelRatioF();
        const int width = std::min(room.width(), static_cast<int>(room.height() * width_to_height));
        QPixmap fitted = sides_[side].scaledToWidth(std::max(width, least_side_px), Qt::SmoothTransformation);
        fitted.setDevicePixelRatio(devicePixelRatioF());
        shown_[side]->setPixmap(fitted);
    }
}

void CardsDialog::ask_for_folder() {
    const QString folder = QFileDialog::getExistingDirectory(this, tr("The folder the cards are put into"));
    if (!folder.isEmpty()) save_into(folder);
}

void CardsDialog::save_into(const QString& folder, usecases::OldCards old_cards) {
    if (work_.running()) return;
    folder_ = folder;
    replace_->hide();
    for (QPushButton* each : needs_cards_) each->setEnabled(false);
    work_.begin([this, how = session().how(), id = snapshot_.picture.id, folder, ground = ground_,
                 old_cards](const Progress& p) {
        auto worker = open_for_worker(how);
        const auto written = worker ? usecases::write_bid_cards(worker->book, id, path_from_utf8(plain(folder)), ground,
                                                                how.clock->now(), p, old_cards)
                                    : Expected<usecases::CardFiles>(pass_on(worker));
        work_.tell([this, written, folder] {
            if (!written) {
                say_error(written.error());
                replace_->setVisible(written.error().code == "cards.exists");
            } else {
                say((written->out_of_date ? tr("△ The limit is out of date. ") : QString()) +
                        tr("Saved in %1: %2 files. The pocket card may be seen by others; the desk card may not.")
                            .arg(folder)
                            .arg(written->pdfs.size() + written->pngs.size()),
                    written->out_of_date ? "warning" : "done");
            }
            emit told();
        });
    });
}

void CardsDialog::ask_for_printer(Card card) {
    const auto printer = std::make_shared<QPrinter>(QPrinter::HighResolution);
    printer->setPageSize(QPageSize(QPageSize::A6));
    printer->setFullPage(true);
    printer->setDocName(card == Card::pocket ? tr("Pocket card") : tr("Desk card"));
    QPrintDialog dialog(printer.get(), this);
    dialog.setWindowTitle(card == Card::pocket ? tr("Print the card for the pocket")
                                               : tr("Print the card for the desk"));
    if (dialog.exec() == QDialog::Accepted) print_on(printer, card);
}

void CardsDialog::print_on(const std::shared_ptr<QPrinter>& printer, Card card) {
    if (work_.running()) return;
    for (QPushButton* each : needs_cards_) each->setEnabled(false);
    work_.begin([this, snapshot = snapshot_, ground = ground_, now = session().how().clock->now(), printer,
                 card](const Progress& progress) {
        const auto print = [&]() -> Expected<int> {
            const auto cards = usecases::bid_cards(snapshot);
            if (!cards) return pass_on(cards);
            const auto pdf = dossier::card_pdf(card == Card::pocket ? cards->pocket : cards->desk, ground, now);
            if (!pdf) return pass_on(pdf);
            const QTemporaryDir folder;
            const auto file = path_from_utf8(plain(folder.path())) / "card.pdf";
            if (auto written = write_file_durably(file, *pdf); !written) return pass_on(written);
            return print_pages(file, *printer, progress);
        };
        work_.tell([this, printed = print()] {
            if (!printed)
                say_error(printed.error());
            else
                say(tr("● %1 given to the printer.").arg(*printed == 1 ? tr("1 side") : tr("%1 sides").arg(*printed)),
                    "done");
            emit told();
        });
    });
}

}  // namespace tedge::desk
