#include "photographs/intake_panel.hpp"

#include <QFileDialog>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QScrollBar>
#include <QTableView>
#include <QVBoxLayout>
#include <algorithm>

#include "tedge/base/files.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr int refusals_in_sight = 5;
constexpr int rows_in_sight = 12;

// What reading left out of pictures that were taken in.
QString remarks(const IntakeModel& model) {
    QStringList lines;
    for (const IntakeRow& row : model.rows()) {
        if (row.state != IntakeState::refused && row.state != IntakeState::waiting && !row.said.isEmpty())
            lines << QStringLiteral("△ %1: %2").arg(shown(to_utf8(row.wanted.file.filename())), row.said);
    }
    const auto more = lines.size() - refusals_in_sight;
    if (more > 0) lines = lines.mid(0, refusals_in_sight) << QObject::tr("… and %1 more, each in its record").arg(more);
    return lines.join(u'\n');
}

QString refusals(const IntakeModel& model) {
    QStringList lines;
    for (const IntakeRow& row : model.rows()) {
        if (row.state == IntakeState::refused)
            lines << QStringLiteral("⊘ %1: %2").arg(shown(to_utf8(row.wanted.file.filename())), row.said);
    }
    const auto more = lines.size() - refusals_in_sight;
    if (more > 0) lines = lines.mid(0, refusals_in_sight) << QObject::tr("… and %1 more").arg(more);
    return lines.join(u'\n');
}

}  // namespace

IntakePanel::IntakePanel(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      model_(new IntakeModel(this)),
      table_(new QTableView(this)),
      bar_(new QProgressBar(this)),
      doing_(new QLabel(this)),
      summary_(new QLabel(this)),
      choose_(new QPushButton(tr("&Add photographs …"), this)),
      begin_(new QPushButton(tr("&Take them in"), this)),
      cancel_(new QPushButton(tr("&Cancel"), this)),
      keep_(new QPushButton(this)) {
    make_layout();
    connect_intake();
    show_what_can_be_done();
}

void IntakePanel::make_layout() {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    auto* words = new WordDelegate(table_);
    connect(words, &WordDelegate::chosen, this, &IntakePanel::choose_for_all);
    table_->setModel(model_);
    table_->setItemDelegate(words);
    table_->setSelectionBehavior(QAbstractItemView::SelectRows);
    table_->setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::SelectedClicked |
                            QAbstractItemView::EditKeyPressed | QAbstractItemView::AnyKeyPressed);
    table_->setTextElideMode(Qt::ElideMiddle);
    table_->setTabKeyNavigation(false);
    table_->verticalHeader()->hide();
    table_->horizontalHeader()->setStretchLastSection(true);
    connect(table_->horizontalHeader(), &QHeaderView::sectionClicked, model_, &IntakeModel::tick_all);
    table_->setAccessibleName(tr("Photographs to take in"));
    table_->setToolTip(tr("Choose several rows to say the same of all of them; a click on Scale or Chart ticks all"));
    for (QLabel* label : {doing_, summary_}) label->setWordWrap(true);
    bar_->setAccessibleName(tr("How far the intake is"));
    begin_->setProperty("act", "main");
    auto* row = new QHBoxLayout;
    for (QPushButton* button : {begin_, cancel_}) row->addWidget(button);
    column->addWidget(choose_);
    column->addWidget(table_);
    column->addWidget(doing_);
    column->addWidget(bar_);
    column->addLayout(row);
    column->addWidget(summary_);
    column->addWidget(keep_);
    connect(choose_, &QPushButton::clicked, this, &IntakePanel::choose_files);
    connect(begin_, &QPushButton::clicked, this, &IntakePanel::begin);
    connect(cancel_, &QPushButton::clicked, this, &IntakePanel::cancel);
    connect(keep_, &QPushButton::clicked, this, &IntakePanel::keep_damaged);
}

void IntakePanel::connect_intake() {
    const auto row_of = [this](int index) { return under_way_[static_cast<std::size_t>(index)]; };
    connect(&intake_, &Intake::progress, this, [this](int done, int of, const QString& what) {
        bar_->setRange(0, of);
        bar_->setValue(done);
        doing_->setText(tr("Reading and storing %1 (%2 of %3)").arg(what).arg(done + 1).arg(of));
    });
    connect(&intake_, &Intake::taken, this, [this, row_of](int index, const usecases::TakenPhotograph& taken) {
        QStringList notes;
        for (const std::string& note : taken.notes) notes << shown(note);
        model_->set_state(row_of(index), taken.already ? IntakeState::already : IntakeState::taken,
                          notes.join(QLatin1Char(' ')));
    });
    connect(&intake_, &Intake::refused, this, [this, row_of](int index, const Error& error) {
        model_->set_state(row_of(index), IntakeState::refused, shown(error.message + " " + error.next),
                          error.code == "picture.damaged");
    });
    connect(&intake_, &Intake::finished, this, &IntakePanel::finish);
}

void IntakePanel::show_case(const Uuid& case_id) {
    if (case_id_ == case_id) return;
    case_id_ = case_id;
    if (intake_.running()) return;  // it goes on for the case it was begun for
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

void IntakePanel::add_files(const std::vector<std::filesystem::path>& dropped) {
    const auto files = files_of(dropped);
    if (!intake_.running() && model_->waiting().empty()) model_->clear();
    model_->add(case_id_, files);
    summary_->setText(files.empty() && !dropped.empty() ? tr("No pictures are in what was dropped.") : QString());
    table_->resizeColumnsToContents();
    show_what_can_be_done();
}

void IntakePanel::begin() {
    under_way_ = intake_.running() ? under_way_ : model_->waiting();
    if (under_way_.empty() || intake_.running()) return;
    std::vector<usecases::NewPhotograph> wanted;
    wanted.reserve(under_way_.size());
    for (const int row : under_way_) wanted.push_back(model_->rows()[static_cast<std::size_t>(row)].wanted);
    bar_->setRange(0, static_cast<int>(wanted.size()));
    bar_->setValue(0);
    summary_->clear();
    intake_.begin(session_.how(), std::move(wanted));
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
    QStringList parts{tr("%1 taken in").arg(model_->count(IntakeState::taken))};
    if (const int already = model_->count(IntakeState::already); already > 0)
        parts << tr("%1 were here already").arg(already);
    if (const int refused = model_->count(IntakeState::refused); refused > 0) parts << tr("%1 refused").arg(refused);
    QString text = parts.join(QStringLiteral(", ")) + u'.';
    if (was_cancelled) text += u' ' + tr("Cancelled; what was taken in before stays.");
    if (const QString why = refusals(*model_); !why.isEmpty()) text += u'\n' + why;
    if (const QString said = remarks(*model_); !said.isEmpty()) text += u'\n' + said;
    summary_->setText(text);
    emit session_.changed();
    show_what_can_be_done();
}

// What one row is said to show goes for all that are chosen with it.
void IntakePanel::choose_for_all(const QModelIndex& index, const QString& word) {
    for (const QModelIndex& row : table_->selectionModel()->selectedRows())
        model_->setData(row.siblingAtColumn(index.column()), word, Qt::EditRole);
}

void IntakePanel::show_what_can_be_done() {
    const bool busy = intake_.running();
    const int damaged = model_->damaged();
    table_->setVisible(model_->rowCount() > 0);
    // As tall as what waits, as far as one looks it over at a glance; the sheet scrolls.
    const int rows = std::min(model_->rowCount(), rows_in_sight);
    table_->setMinimumHeight(table_->horizontalHeader()->sizeHint().height() +
                             rows * table_->verticalHeader()->defaultSectionSize() +
                             table_->horizontalScrollBar()->sizeHint().height() + 2 * table_->frameWidth());
    for (QWidget* widget : std::initializer_list<QWidget*>{bar_, cancel_, doing_}) widget->setVisible(busy);
    begin_->setVisible(!busy && !model_->waiting().empty());
    summary_->setVisible(!summary_->text().isEmpty());
    keep_->setVisible(!busy && damaged > 0);
    keep_->setText(damaged == 1 ? tr("&Keep the damaged one all the same")
                                : tr("&Keep the %1 damaged all the same").arg(damaged));
    keep_->setToolTip(tr("A damaged picture may be the only witness: it is kept and marked as damaged"));
}

}  // namespace tedge::desk
