#include "desk_window.hpp"

#include <QDialog>
#include <QDialogButtonBox>
#include <QDragEnterEvent>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QMessageBox>
#include <QMimeData>
#include <QShortcut>
#include <QSplitter>
#include <QStackedWidget>
#include <QStatusBar>
#include <QUrl>

#include "accounts/house_dialog.hpp"
#include "forms/entries/entry.hpp"
#include "people/people_dialog.hpp"
#include "saleday/sale_acts.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/length.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr int message_ms = 12'000;
constexpr int rack_from_px = 960;  // in a narrower window the picture needs the room
constexpr QSize least_size{720, 480};
constexpr int line_width_px = 360;  // a title with its painter can be read in one look

}  // namespace

DeskWindow::DeskWindow(std::unique_ptr<BookSession> session)
    : session_(std::move(session)),
      pictures_(*session_),
      drafts_(session_->book().folder() / "half-typed.json"),
      rack_(new Rack(*session_, pictures_, this)),
      case_(new CaseView(*session_, pictures_, drafts_, this)),
      right_(new QStackedWidget(this)) {
    // What was typed into a record must not outlive its erasure, whoever erased it.
    const auto drop_erased = [this] { drafts_.drop_erased(session_->book()); };
    drop_erased();
    connect(session_.get(), &BookSession::changed, this, drop_erased);
    setWindowTitle(tr("Tacking Edge · %1").arg(shown(to_utf8(session_->book().folder().filename()))));
    setAcceptDrops(true);
    setMinimumSize(least_size);
    auto* sides = new QSplitter(Qt::Horizontal, this);
    sides->setChildrenCollapsible(false);
    rack_->setMinimumWidth(210);
    sides->addWidget(rack_);
    auto* empty = new QLabel(tr("Choose a picture of the rack, or open a case for a new one."), this);
    empty->setAlignment(Qt::AlignCenter);
    right_->addWidget(empty);
    right_->addWidget(case_);
    sides->addWidget(right_);
    sides->setStretchFactor(1, 1);
    sides->setSizes({260, 1180});
    setCentralWidget(sides);
    connect(rack_, &Rack::chosen, this, &DeskWindow::open_case);
    connect(&case_->head(), &CaseHead::rack_wanted, this, [this](bool is_wanted) {
        rack_wanted_ = is_wanted;
        show_rack(is_wanted);
    });
    connect(rack_, &Rack::new_case_wanted, this, &DeskWindow::new_case);
    connect(rack_, &Rack::people_wanted, this, &DeskWindow::show_people);
    connect(rack_, &Rack::house_wanted, this, &DeskWindow::show_house);
    connect(rack_, &Rack::deadlines_wanted, this, [this] { case_->sale_acts().begin(SaleAct::all_deadlines); });
    connect(case_, &CaseView::case_wanted, this, [this](const Uuid& case_id) {
        rack_->choose(case_id);
        open_case(case_id);  // also where the rack is narrowed to others
    });
    connect(session_.get(), &BookSession::refused, this, [this](const Error& error) {
        statusBar()->showMessage(shown(error.message + " " + error.next), message_ms);
    });
    if (session_->book().read_only()) statusBar()->showMessage(tr("This casebook is open for reading only."));
    add_keys();
}

void DeskWindow::open_case(const Uuid& case_id) {
    right_->setCurrentWidget(case_);
    case_->show_case(case_id);
    show_rack(rack_wanted_.value_or(width() >= rack_from_px));
}

// Without a case on the desk the rack is all there is.
void DeskWindow::show_rack(bool is_shown) {
    const bool visible = is_shown || right_->currentWidget() != case_;
    rack_->setVisible(visible);
    case_->head().show_rack_state(visible);
}

void DeskWindow::resizeEvent(QResizeEvent* event) {
    QMainWindow::resizeEvent(event);
    show_rack(rack_wanted_.value_or(width() >= rack_from_px));
}

void DeskWindow::add_keys() {
    const auto key = [this](const QKeySequence& keys, auto act) {
        auto* shortcut = new QShortcut(keys, this);
        connect(shortcut, &QShortcut::activated, this, act);
    };
    key(QKeySequence(Qt::Key_F9), [this] { session_->set_client_looks(!session_->client_looks()); });
    key(QKeySequence::Undo, [this] {
        statusBar()->showMessage(
            session_->can_undo() ? tr("Taken back: %1").arg(session_->undo_text()) : tr("Nothing to take back."),
            message_ms);
        session_->undo();
    });
    key(QKeySequence::Redo, [this] { session_->redo(); });
    key(QKeySequence::Find, [this] {
        show_rack(true);
        rack_->focus_search();
    });
    key(QKeySequence(Qt::Key_F7), [this] {
        rack_wanted_ = !rack_->isVisible();
        show_rack(*rack_wanted_);
    });
    key(QKeySequence(Qt::Key_F3), [this] { case_->head().open_sale_menu(); });
    key(QKeySequence(Qt::Key_F11), [this] { case_->sale_acts().begin(SaleAct::all_deadlines); });
    key(QKeySequence(Qt::Key_F8), [this] { case_->settle(); });
    key(QKeySequence(Qt::Key_F10), [this] { show_people(); });
    key(QKeySequence(Qt::Key_F12), [this] { show_house(); });
    key(QKeySequence::New, [this] { case_->begin_new_record(); });
    key(QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_N), [this] { new_case(); });
    key(QKeySequence(Qt::Key_F1), [this] { show_keys(); });
    key(QKeySequence(Qt::Key_F6), [this] { case_->easel().setFocus(); });
}

void DeskWindow::new_case() {
    QDialog dialog(this);
    dialog.setWindowTitle(tr("New picture"));
    auto* form = new QFormLayout(&dialog);
    auto* title = new QLineEdit(&dialog);
    auto* artist = new QLineEdit(&dialog);
    auto* height = new QLineEdit(&dialog);
    auto* width = new QLineEdit(&dialog);
    height->setPlaceholderText(tr("610 mm, 24 in"));
    width->setPlaceholderText(tr("812 mm, 32 in"));
    form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    for (QLineEdit* line : {title, artist, height, width}) line->setMinimumSize(line_width_px, target_px);
    form->addRow(tr("What it shows *"), title);
    form->addRow(tr("Artist, as we say it"), artist);
    form->addRow(tr("Height"), height);
    form->addRow(tr("Width"), width);
    auto* fault = new QLabel(&dialog);
    fault->setProperty("role", "closed");
    fault->setWordWrap(true);
    form->addRow(fault);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, &dialog);
    form->addRow(buttons);
    connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
    connect(buttons, &QDialogButtonBox::accepted, &dialog, [&] {
        usecases::NewCase wanted{plain(title->text()), plain(artist->text()), std::nullopt};
        if (!height->text().isEmpty() || !width->text().isEmpty()) {
            const auto h = parse_length_mm(plain(height->text()));
            const auto w = parse_length_mm(plain(width->text()));
            if (!h || !w) return fault->setText(shown((h ? w : h).error().message + " " + (h ? w : h).error().next));
            wanted.size = SizeMm{*w, *h};
        }
        const auto id = usecases::open_case(session_->acting(), wanted);
        if (!id) return fault->setText(shown(id.error().message + " " + id.error().next));
        emit session_->changed();
        rack_->choose(*id);
        dialog.accept();
    });
    dialog.exec();
}

void DeskWindow::show_people() {
    if (session_->client_looks()) return;
    PeopleDialog(*session_, drafts_, this).exec();
}

// While a client looks it holds the list in code alone.
void DeskWindow::show_house() {
    HouseDialog dialog(*session_, this);
    connect(&dialog, &HouseDialog::case_wanted, this, [this, &dialog](const Uuid& case_id) {
        dialog.accept();
        rack_->choose(case_id);
        open_case(case_id);
        case_->show_sheet(usecases::Stage::account);
    });
    dialog.exec();
}

void DeskWindow::show_keys() {
    QMessageBox::information(
        this, tr("Keys"),
        tr("F9  client in the room: hides money, names, private notes\n"
           "Ctrl+F  find in the rack      Ctrl+Shift+N  new picture\n"
           "Ctrl+N  new record on this sheet      Ctrl+Return  save it\n"
           "Ctrl+Z  take back      Ctrl+Shift+Z  do again\n"
           "F7  the rack      F6  to the easel      F8  what is told differently      F10  people\n"
           "F3  the sale: terms, cards, result, invoice, deadlines      F11  what falls due, all pictures\n"
           "F12  the house: all pictures and their money\n"
           "At the easel:  + −  zoom,  arrows  move,  0  whole,  V  to the back and to the front,\n"
           "H  half and half,  T held  the one in place of the other,  D  difference,  P  places,  C  compare\n"
           "Comparing:  B  beside,  H  half,  T  turning (Space by hand),  F  fading,  [ ]  turn the line,  1  pixels, "
           " Esc  back\n"
           "In the strip:  Enter  shows,  Ctrl+Enter  sets beside,  Shift  chooses several,  menu key  what else\n"
           "In a drawing:  Enter  close,  Backspace  one corner back,  Esc  give up"));
}

void DeskWindow::dragEnterEvent(QDragEnterEvent* event) {
    if (event->mimeData()->hasUrls()) event->acceptProposedAction();
}

void DeskWindow::dropEvent(QDropEvent* event) {
    std::vector<std::filesystem::path> files;
    for (const QUrl& url : event->mimeData()->urls()) {
        if (url.isLocalFile()) files.push_back(path_from_utf8(plain(url.toLocalFile())));
    }
    event->acceptProposedAction();
    take_in(files);
}

void DeskWindow::take_in(const std::vector<std::filesystem::path>& files) {
    if (right_->currentWidget() != case_) {
        statusBar()->showMessage(tr("Open a case first: photographs belong to a picture."), message_ms);
        return;
    }
    case_->add_photographs(files);
}

}  // namespace tedge::desk
