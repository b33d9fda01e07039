#include "photographs/intake_panel.hpp"

#include <QFileDialog>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QProgressBar>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "forms/flow_layout.hpp"
#include "photographs/intake_delegate.hpp"
#include "photographs/intake_keys.hpp"
#include "photographs/intake_table.hpp"
#include "photographs/intake_told.hpp"
#include "tedge/base/files.hpp"
#include "tedge/usecases/shot_list.hpp"
#include "text.hpp"

namespace tedge::desk {

IntakePanel::IntakePanel(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      model_(new IntakeModel(this)),
      table_(new IntakeTable(*model_, this)),
      photographer_(new QLineEdit(this)),
      licence_(new QLineEdit(this)),
      bar_(new QProgressBar(this)),
      doing_(new QLabel(this)),
      summary_(new QLabel(this)),
      keys_(new QLabel(keys_in_words(), this)),
      watched_said_(new QLabel(this)),
      choose_(new QPushButton(tr("&Add photographs …"), this)),
      watch_(new QPushButton(this)),
      begin_(new QPushButton(tr("&Take them in"), this)),
      cancel_(new QPushButton(tr("&Cancel"), this)),
      keep_(new QPushButton(this)) {
    make_layout();
    make_buttons();
    connect_intake();
    connect_table();
    connect_watching();
    connect(&session_, &BookSession::client_looks_changed, this, &IntakePanel::show_what_can_be_done);
    show_what_can_be_done();
}

void IntakePanel::make_layout() {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    for (QLabel* label : {doing_, summary_, keys_, watched_said_}) label->setWordWrap(true);
    keys_->setProperty("role", "faded");
    bar_->setAccessibleName(tr("How far the intake is"));
    rights_ = new QWidget(this);
    auto* rights = new QFormLayout(rights_);
    rights->setContentsMargins(0, 0, 0, 0);
    photographer_->setAccessibleName(tr("Photographer of all that wait"));
    licence_->setAccessibleName(tr("Licence of all that wait"));
    rights->addRow(tr("Photographer"), photographer_);
    rights->addRow(tr("Licence"), licence_);
    auto* come = new QWidget(this);
    auto* ways = new FlowLayout(come);
    ways->addWidget(choose_);
    ways->addWidget(watch_);
    auto* go = new QWidget(this);
    auto* acts = new FlowLayout(go);
    acts->addWidget(begin_);
    acts->addWidget(cancel_);
    for (QWidget* each : std::initializer_list<QWidget*>{come, watched_said_, table_, rights_, doing_, bar_, go,
                                                         summary_, keep_, keys_})
        column->addWidget(each);
}

void IntakePanel::make_buttons() {
    begin_->setProperty("act", "main");
    connect(choose_, &QPushButton::clicked, this, &IntakePanel::choose_files);
    connect(watch_, &QPushButton::clicked, this, &IntakePanel::choose_watched);
    connect(begin_, &QPushButton::clicked, this, &IntakePanel::begin);
    connect(cancel_, &QPushButton::clicked, this, &IntakePanel::cancel);
    connect(keep_, &QPushButton::clicked, this, &IntakePanel::keep_damaged);
}

void IntakePanel::connect_intake() {
    const auto set_state = [this](int index, IntakeState state, const QString& told, bool is_damaged) {
        const auto& file = under_way_[static_cast<std::size_t>(index)];
        for (int row = 0; row < model_->rowCount(); ++row) {
            if (model_->rows()[static_cast<std::size_t>(row)].wanted.file == file)
                model_->set_state(row, state, told, is_damaged);
        }
    };
    connect(&intake_, &Intake::progress, this, [this](int done, int of, const QString& what) {
        bar_->setRange(0, of);
        bar_->setValue(done);
        doing_->setText(tr("Reading and storing %1 (%2 of %3)").arg(what).arg(done + 1).arg(of));
    });
    connect(&intake_, &Intake::taken, this, [set_state](int index, const usecases::TakenPhotograph& taken) {
        QStringList notes;
        for (const std::string& note : taken.notes) notes << shown(note);
        set_state(index, taken.already ? IntakeState::already : IntakeState::taken, notes.join(QLatin1Char(' ')),
                  false);
    });
    connect(&intake_, &Intake::refused, this, [set_state](int index, const Error& error) {
        set_state(index, IntakeState::refused, shown(error.message + " " + error.next),
                  error.code == "picture.damaged");
    });
    connect(&intake_, &Intake::finished, this, &IntakePanel::finish);
}

void IntakePanel::connect_table() {
    auto* delegate = new IntakeDelegate(table_);
    table_->setItemDelegate(delegate);
    connect(delegate, &IntakeDelegate::chosen, this, &IntakePanel::choose_for_all);
    connect(table_, &IntakeTable::take_in_wanted, this, &IntakePanel::begin);
    connect(table_, &IntakeTable::rows_in_sight, this, [this](const std::vector<int>& rows) {
        for (auto row = rows.rbegin(); row != rows.rend(); ++row)
            looks_.ask_for(model_->rows()[static_cast<std::size_t>(*row)].wanted.file, IntakeLooks::When::soon);
    });
    connect(&looks_, &IntakeLooks::arrived, this, [this](const IntakeLook& look) {
        model_->looked_at(look.file, look.character, look.taken_at, look.small);
    });
}

void IntakePanel::connect_watching() {
    connect(&watched_, &WatchedFolder::came, this, &IntakePanel::shot_came);
    connect(&watched_, &WatchedFolder::stopped, this, [this](const QString& why) {
        watched_said_->setText(why);
        show_what_can_be_done();
    });
}

void IntakePanel::show_case(const Uuid& case_id) {
    if (case_id_ == case_id) return;
    case_id_ = case_id;
    usual_ = usecases::usual_rights(session_.book(), case_id);
    photographer_->setPlaceholderText(tr("As the file says; else %1").arg(shown(usual_.photographer)));
    licence_->setPlaceholderText(tr("As the file says; else %1").arg(shown(usual_.licence)));
    if (intake_.running()) return;  // it goes on for the case it was begun for
    stop_watching();
    looks_.forget();
    model_->clear();
    summary_->clear();
    show_what_can_be_done();
}

void IntakePanel::choose_files() {
    std::vector<std::filesystem::path> files;
    for (const QString& name : QFileDialog::getOpenFileNames(this, tr("Photographs")))
        files.push_back(path_from_utf8(plain(name)));
    add_files(files);
}

usecases::ShotSaid IntakePanel::assumed() const {
    usecases::ShotSaid assumed;
    if (const auto snapshot = session_.book().snapshot(case_id_)) assumed.stage = usecases::stage_of_work(*snapshot);
    return assumed;
}

void IntakePanel::add_files(const std::vector<std::filesystem::path>& dropped) {
    const auto files = files_of(dropped);
    if (!intake_.running() && model_->waiting().empty()) model_->clear();
    add_rows(files, assumed());
    summary_->setText(files.empty() && !dropped.empty() ? tr("No pictures are in what was dropped.") : QString());
    if (model_->rowCount() > 0 && !table_->currentIndex().isValid()) table_->selectRow(0);
    show_what_can_be_done();
    table_->setFocus();
}

void IntakePanel::add_rows(const std::vector<std::filesystem::path>& files, const usecases::ShotSaid& assumed) {
    model_->add(case_id_, files, assumed);
    for (const auto& file : files) looks_.ask_for(file, IntakeLooks::When::later);
}

void IntakePanel::begin() {
    if (intake_.running() || model_->waiting().empty()) return;
    under_way_.clear();
    std::vector<usecases::NewPhotograph> wanted;
    for (const int row : model_->waiting()) {
        wanted.push_back(model_->rows()[static_cast<std::size_t>(row)].wanted);
        wanted.back().photographer = plain(photographer_->text().trimmed());
        wanted.back().licence = plain(licence_->text().trimmed());
        under_way_.push_back(wanted.back().file);
    }
    bar_->setRange(0, static_cast<int>(wanted.size()));
    bar_->setValue(0);
    summary_->clear();
    intake_.begin(session_.how(), std::move(wanted), usual_);
    show_what_can_be_done();
}

void IntakePanel::keep_damaged() {
    model_->keep_damaged();
    begin();
}

QString IntakePanel::summary() const {
    return summary_->text();
}

void IntakePanel::finish(bool was_cancelled) {
    summary_->setText(told_of_intake(*model_, was_cancelled));
    emit session_.changed();
    show_what_can_be_done();
    // What was shot meanwhile.
    if (watching() && !was_cancelled && case_id_ == watched_case_) begin();
}

void IntakePanel::choose_watched() {
    if (watching()) return stop_watching();
    const QString folder = QFileDialog::getExistingDirectory(this, tr("The folder the camera writes into"));
    if (!folder.isEmpty()) watch(path_from_utf8(plain(folder)));
}

void IntakePanel::watch(const std::filesystem::path& folder) {
    watched_case_ = case_id_;
    watched_said_->setText(tr("Pictures that appear in %1 come in by themselves.").arg(shown(to_utf8(folder))));
    watched_.watch(folder);
    show_what_can_be_done();
}

void IntakePanel::stop_watching() {
    watched_.stop();
    watched_said_->clear();
    show_what_can_be_done();
}

// The next shot of the list that no row is on its way to be.
void IntakePanel::shot_came(const std::filesystem::path& file) {
    usecases::ShotSaid next = assumed();
    if (const auto snapshot = session_.book().snapshot(case_id_)) {
        usecases::ShotList list = usecases::shot_list(*snapshot);
        std::erase_if(list.shots, [this](const usecases::ListedShot& shot) {
            return std::ranges::any_of(model_->rows(), [&](const IntakeRow& row) {
                return usecases::Shot{std::string(to_text(row.wanted.face)), row.wanted.light, row.wanted.stage} ==
                       shot.shot;
            });
        });
        if (const auto shot = usecases::next_shot(list)) {
            next.face = parse_face(shot->face).value_or(Face::recto);
            next.light = shot->light;
            next.stage = shot->stage;
        }
    }
    add_rows({file}, next);
    show_what_can_be_done();
    begin();
}

// What one row is said to show goes for all that are chosen with it.
void IntakePanel::choose_for_all(const QModelIndex& index, const QString& word) {
    model_->setData(index, word, Qt::EditRole);
    for (const int row : table_->chosen_rows()) model_->setData(model_->index(row, index.column()), word, Qt::EditRole);
}

void IntakePanel::show_what_can_be_done() {
    const bool busy = intake_.running();
    const int damaged = model_->damaged();
    const bool waits = !model_->waiting().empty();
    table_->setVisible(model_->rowCount() > 0);
    table_->fit_height();
    for (QWidget* widget : std::initializer_list<QWidget*>{bar_, cancel_, doing_}) widget->setVisible(busy);
    begin_->setVisible(!busy && waits);
    keys_->setVisible(waits);
    rights_->setVisible(waits && !session_.client_looks());  // it names people
    summary_->setVisible(!summary_->text().isEmpty());
    watched_said_->setVisible(!watched_said_->text().isEmpty());
    watch_->setText(watching() ? tr("Stop &watching") : tr("&Watch a folder …"));
    keep_->setVisible(!busy && damaged > 0);
    keep_->setText(damaged == 1 ? tr("&Keep the damaged one all the same")
                                : tr("&Keep the %1 damaged all the same").arg(damaged));
    keep_->setToolTip(tr("A damaged picture may be the only witness: it is kept and marked as damaged"));
}

}  // namespace tedge::desk
