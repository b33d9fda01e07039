#include "saleday/deadlines_dialog.hpp"

#include <QCheckBox>
#include <QFileDialog>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QSpinBox>
#include <QVBoxLayout>
#include <algorithm>

#include "forms/entries/entry.hpp"
#include "saleday/sale_words.hpp"
#include "tedge/base/files.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr QSize deadlines_size{900, 640};
constexpr int most_remind_days = 60;
constexpr int usual_remind_days = 2;
enum DeadlineColumn { when_column, what_column, picture_column, standing_column };

}  // namespace

DeadlinesDialog::DeadlinesDialog(BookSession& session, const std::optional<Uuid>& case_id, QWidget* parent)
    : SaleDialog(session, tr("What falls due"), deadlines_size, parent),
      case_id_(case_id),
      next_(new QLabel(this)),
      all_(new QCheckBox(tr("Of &all pictures"), this)),
      table_(
          make_table({tr("When"), tr("What"), tr("Picture"), tr("Stands")}, what_column, tr("What falls due"), this)),
      basis_(new QLabel(this)),
      remind_(new QSpinBox(this)) {
    next_->setFont(heading_font());
    next_->setWordWrap(true);
    body().addWidget(next_);
    all_->setChecked(!case_id);
    all_->setEnabled(case_id.has_value());
    body().addWidget(all_);
    body().addWidget(table_, 1);
    basis_->setProperty("role", "faded");
    basis_->setWordWrap(true);
    basis_->setMinimumHeight(basis_->fontMetrics().lineSpacing() + 2);
    body().addWidget(basis_);
    table_->horizontalHeaderItem(standing_column)->setTextAlignment(Qt::AlignLeft | Qt::AlignVCenter);
    table_->horizontalHeaderItem(picture_column)->setTextAlignment(Qt::AlignLeft | Qt::AlignVCenter);
    table_->horizontalHeader()->setSectionResizeMode(picture_column, QHeaderView::Stretch);
    add_acts();
    connect(all_, &QCheckBox::toggled, this, &DeadlinesDialog::read_again);
    connect(table_, &QTableWidget::itemSelectionChanged, this, &DeadlinesDialog::show_what_can_be_done);
    connect(table_, &QTableWidget::itemActivated, this, [this] { open_chosen(); });
    read_again();
    table_->setFocus();
}

void DeadlinesDialog::add_acts() {
    auto* row = new QHBoxLayout;
    const auto act = [&](const QString& text, auto what) {
        auto* made = new QPushButton(text, this);
        made->setMinimumHeight(target_px);
        made->setAutoDefault(false);
        connect(made, &QPushButton::clicked, this, what);
        row->addWidget(made);
        return made;
    };
    count_ = act(tr("&Count from the terms"), [this] { count(); });
    done_ = act(tr("&Done today"), [this] { mark_done(); });
    open_ = act(tr("&Open it"), [this] { open_chosen(); });
    row->addStretch(1);
    body().addLayout(row);
    export_ = add_act(tr("For other calendars (&iCalendar) …"), [this] { ask_for_file(); });
    remind_->setRange(-1, most_remind_days);
    remind_->setSpecialValueText(tr("no reminder"));
    remind_->setSuffix(tr(" days before"));
    remind_->setValue(usual_remind_days);
    remind_->setMinimumHeight(target_px);
    remind_->setAccessibleName(tr("Reminder in the calendar"));
    add_beside_acts(remind_);
}

std::optional<Uuid> DeadlinesDialog::wanted_case() const {
    return all_->isChecked() ? std::nullopt : case_id_;
}

void DeadlinesDialog::show_all(bool are_all) {
    all_->setChecked(are_all);
}

void DeadlinesDialog::read_again() {
    const auto found = usecases::standing_deadlines(session().book(), wanted_case(), day_of_desk(session()));
    if (!found) return say_error(found.error());
    due_ = *found;
    table_->clearContents();
    table_->setRowCount(static_cast<int>(due_.size()));
    table_->setColumnHidden(picture_column, !all_->isChecked());
    for (std::size_t i = 0; i < due_.size(); ++i) show_row(static_cast<int>(i), due_[i]);
    const auto next = std::ranges::find_if(due_, [](const auto& each) { return !each.done_on && each.days_left >= 0; });
    const auto overdue = std::ranges::count_if(due_, [](const auto& each) { return each.is_past() && !each.is_sale; });
    QString text = next == due_.end()
                       ? tr("Nothing is still to come.")
                       : tr("Next: %1, %2, %3").arg(shown(next->what), when_words(*next), standing_words(*next));
    if (overdue > 0) text += tr(" · △ %1 overdue").arg(overdue);
    next_->setText(text);
    if (!due_.empty()) table_->setCurrentCell(0, when_column);
    show_what_can_be_done();
}

void DeadlinesDialog::show_row(int row, const usecases::StandingDeadline& due) {
    const QString at = due.at.empty() ? QString() : tr(" at %1").arg(shown(due.at));
    put_cell(*table_, row, when_column, day_text(to_text(due.on)));
    put_cell(*table_, row, what_column, capital(shown(due.what)) + at);
    put_cell(*table_, row, picture_column, shown(due.title));
    put_cell(*table_, row, standing_column, standing_words(due));
    const QColor ink = due.done_on ? theme().faded_ink : due.is_past() && !due.is_sale ? theme().warning : theme().ink;
    for (int column = 0; column < table_->columnCount(); ++column) table_->item(row, column)->setForeground(ink);
}

const usecases::StandingDeadline* DeadlinesDialog::chosen() const {
    const int row = table_->currentRow();
    return row >= 0 && static_cast<std::size_t>(row) < due_.size() ? &due_[static_cast<std::size_t>(row)] : nullptr;
}

void DeadlinesDialog::show_what_can_be_done() {
    const auto* due = chosen();
    const bool writes = !session().book().read_only();
    count_->setEnabled(writes && case_id_.has_value() && !all_->isChecked());
    done_->setEnabled(writes && due != nullptr && !due->is_sale && !due->done_on);
    open_->setEnabled(due != nullptr);
    export_->setEnabled(std::ranges::any_of(due_, [](const auto& each) { return !each.done_on; }));
    basis_->setText(due != nullptr ? shown(due->basis) : QString());
}

void DeadlinesDialog::count() {
    if (!case_id_) return;
    auto made = usecases::make_deadlines(session().acting(), *case_id_);
    if (!made) return say_error(made.error());
    QStringList said{made->done.empty() ? tr("Each stands as it is counted.")
                                        : tr("%1 written or counted anew.").arg(made->done.size())};
    for (const auto* list : {&made->by_terms.remarks, &made->by_terms.not_said})
        for (const std::string& each : *list) said << QStringLiteral("△ ") + shown(each);
    for (const usecases::TermDeadline& each : made->by_terms.due)
        if (each.is_default) said << QStringLiteral("△ ") + shown(each.what + ": " + each.basis);
    session().did(std::move(made->done), tr("deadlines counted from the terms"));
    read_again();
    say(said.join(u'\n'), said.size() > 1 ? "warning" : "done");
}

void DeadlinesDialog::mark_done() {
    const auto* due = chosen();
    if (due == nullptr || due->is_sale) return;
    const std::string today = to_text(day_of_desk(session()));
    auto done =
        usecases::change_record(session().acting(), due->record, casebook::FieldValues().text("done_on", today));
    if (!done) return say_error(done.error());
    const QString what = shown(due->what);
    session().did(*std::move(done), tr("done: %1").arg(what));
    read_again();
    say(tr("● Done today: %1.").arg(what), "done");
}

void DeadlinesDialog::open_chosen() {
    const auto* due = chosen();
    if (due == nullptr) return;
    const Uuid case_id = due->case_id;
    const Uuid record = due->record;
    accept();
    emit record_wanted(case_id, record);
}

void DeadlinesDialog::ask_for_file() {
    const QString file = QFileDialog::getSaveFileName(this, tr("A calendar of what falls due"), tr("deadlines.ics"),
                                                      tr("iCalendar (*.ics)"));
    if (!file.isEmpty()) export_to(file.contains(u'.') ? file : file + QStringLiteral(".ics"));
}

void DeadlinesDialog::export_to(const QString& file) {
    usecases::CalendarOptions options;
    if (remind_->value() >= 0) options.remind_days = remind_->value();
    const auto written =
        usecases::export_deadlines(session().book(), wanted_case(), path_from_utf8(plain(file)), options);
    if (!written) return say_error(written.error());
    say(tr("● Saved %1 entries as %2, without amounts, people or private notes.").arg(written->entries).arg(file),
        "done");
}

}  // namespace tedge::desk
