#include "photographs/intake_panel.hpp"

#include <QComboBox>
#include <QFileDialog>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>

#include "tedge/base/files.hpp"
#include "tedge/casebook/field_table.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

enum Column { file_column, face_column, light_column, stage_column, state_column };

QComboBox* word_box(std::string_view field, std::string_view chosen, const QString& file, QWidget* parent) {
    auto* box = new QComboBox(parent);
    for (const std::string_view word : words_of(*casebook::find_kind("photograph")->field(field)))
        box->addItem(shown(word));
    box->setCurrentText(shown(chosen));
    box->setAccessibleName(QObject::tr("%1 of %2").arg(shown(field), file));
    return box;
}

std::string chosen_word(const QTableWidget* table, int row, int column) {
    const auto* box = qobject_cast<QComboBox*>(table->cellWidget(row, column));
    return box != nullptr ? plain(box->currentText()) : std::string();
}

}  // namespace

IntakePanel::IntakePanel(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      table_(new QTableWidget(0, 5, this)),
      bar_(new QProgressBar(this)),
      doing_(new QLabel(this)),
      begin_(new QPushButton(tr("&Take them in"), this)),
      cancel_(new QPushButton(tr("&Cancel"), this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    auto* choose = new QPushButton(tr("&Add photographs …"), this);
    column->addWidget(choose);
    table_->setHorizontalHeaderLabels({tr("File"), tr("Face"), tr("Light"), tr("When"), tr("State")});
    table_->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    table_->horizontalHeader()->setStretchLastSection(true);
    table_->verticalHeader()->hide();
    table_->setAccessibleName(tr("Photographs to take in"));
    table_->setMinimumHeight(150);
    table_->hide();
    column->addWidget(table_);
    column->addWidget(doing_);
    column->addWidget(bar_);
    auto* row = new QHBoxLayout;
    begin_->setProperty("act", "main");
    row->addWidget(begin_);
    row->addWidget(cancel_);
    column->addLayout(row);
    for (QWidget* hidden : std::initializer_list<QWidget*>{bar_, begin_, cancel_, doing_}) hidden->hide();
    connect(choose, &QPushButton::clicked, this, &IntakePanel::choose_files);
    connect(begin_, &QPushButton::clicked, this, &IntakePanel::begin);
    connect(cancel_, &QPushButton::clicked, &intake_, &Intake::cancel);
    connect(&intake_, &Intake::progress, this, [this](int done, int of, const QString& what) {
        bar_->setRange(0, of);
        bar_->setValue(done);
        doing_->setText(tr("Reading and storing %1").arg(what));
    });
    connect(&intake_, &Intake::taken, this, [this](int index, const usecases::TakenPhotograph& taken) {
        set_state(index, taken.already ? tr("was here already") : tr("taken in"));
    });
    connect(&intake_, &Intake::refused, this,
            [this](int index, const Error& error) { set_state(index, shown(error.message + " " + error.next)); });
    connect(&intake_, &Intake::finished, this, [this](bool was_cancelled) {
        bar_->hide();
        cancel_->hide();
        doing_->setText(was_cancelled ? tr("Cancelled; what was taken in before stays.") : tr("Done."));
        files_.clear();
        emit session_.changed();
    });
}

void IntakePanel::choose_files() {
    std::vector<std::filesystem::path> files;
    for (const QString& name : QFileDialog::getOpenFileNames(this, tr("Photographs")))
        files.push_back(path_from_utf8(plain(name)));
    add_files(files);
}

void IntakePanel::add_files(const std::vector<std::filesystem::path>& files) {
    if (intake_.running() || files.empty()) return;
    if (files_.empty()) table_->setRowCount(0);
    for (const auto& file : files) {
        const usecases::NewPhotograph guess = guess_from_name(file);
        const int row = table_->rowCount();
        table_->insertRow(row);
        const QString name = shown(to_utf8(file.filename()));
        table_->setItem(row, file_column, new QTableWidgetItem(name));
        table_->setCellWidget(row, face_column, word_box("face", to_text(guess.face), name, table_));
        table_->setCellWidget(row, light_column, word_box("light", guess.light, name, table_));
        table_->setCellWidget(row, stage_column, word_box("stage", guess.stage, name, table_));
        table_->setItem(row, state_column, new QTableWidgetItem(tr("to be taken in")));
        files_.push_back(file);
    }
    table_->show();
    begin_->show();
}

std::vector<usecases::NewPhotograph> IntakePanel::wanted() const {
    std::vector<usecases::NewPhotograph> all;
    for (int row = 0; row < static_cast<int>(files_.size()); ++row) {
        usecases::NewPhotograph one;
        one.case_id = case_id_;
        one.file = files_[static_cast<std::size_t>(row)];
        one.face = parse_face(chosen_word(table_, row, face_column)).value_or(Face::recto);
        one.light = chosen_word(table_, row, light_column);
        one.stage = chosen_word(table_, row, stage_column);
        all.push_back(std::move(one));
    }
    return all;
}

void IntakePanel::begin() {
    if (files_.empty() || intake_.running()) return;
    begin_->hide();
    for (QWidget* visible : std::initializer_list<QWidget*>{bar_, cancel_, doing_}) visible->show();
    intake_.begin(session_.how(), wanted());
}

void IntakePanel::set_state(int row, const QString& text) {
    if (QTableWidgetItem* item = table_->item(row, state_column)) {
        item->setText(text);
        item->setToolTip(text);
    }
}

}  // namespace tedge::desk
