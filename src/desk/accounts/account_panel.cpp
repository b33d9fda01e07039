#include "accounts/account_panel.hpp"

#include <QFileDialog>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "accounts/account_words.hpp"
#include "accounts/save_table.hpp"
#include "forms/entries/entry.hpp"
#include "forms/flow_layout.hpp"
#include "tedge/usecases/house.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int estimates_column = 1;
constexpr int room_for_estimates_px = 340;

}  // namespace

AccountPanel::AccountPanel(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      entries_(new FigureTable({tr("For"), tr("Estimated"), tr("Actual"), tr("Open")}, 1, this)),
      sums_(new QLabel(this)),
      shares_(new QLabel(this)),
      doubts_(new QLabel(this)),
      refused_(new QLabel(this)),
      told_(new QLabel(this)),
      mend_(new QPushButton(tr("Open that record"), this)),
      pay_(new QPushButton(tr("Record its pa&yment"), this)),
      save_(new QPushButton(tr("Save as CS&V …"), this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    entries_->setAccessibleName(tr("What it cost and brings, by line"));
    entries_->fit_to_rows();
    auto* acts = new FlowLayout;
    for (QPushButton* each : {mend_, pay_, save_}) {
        each->setMinimumHeight(target_px);
        acts->addWidget(each);
    }
    for (QLabel* label : {refused_, told_, sums_, shares_, doubts_}) {
        label->setWordWrap(true);
        label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    }
    for (QWidget* each : std::initializer_list<QWidget*>{refused_, entries_}) column->addWidget(each);
    column->addLayout(acts);
    for (QWidget* each : std::initializer_list<QWidget*>{told_, sums_, shares_, doubts_}) column->addWidget(each);
    pay_->setProperty("act", "main");
    doubts_->setProperty("role", "warning");
    refused_->setProperty("role", "closed");
    connect(entries_, &FigureTable::opened, this, &AccountPanel::record_wanted);
    connect(entries_, &FigureTable::moved_to, this, &AccountPanel::look_at_chosen);
    connect(pay_, &QPushButton::clicked, this, &AccountPanel::begin_payment);
    connect(mend_, &QPushButton::clicked, this, [this] {
        if (faulty_) emit record_wanted(*faulty_);
    });
    connect(save_, &QPushButton::clicked, this, [this] {
        const QString file = ask_for_table(this, tr("Save the accounts"), tr("accounts.csv"));
        if (!file.isEmpty()) save_csv_as(file);
    });
    connect(&session_, &BookSession::client_looks_changed, this, [this](bool looks) { setVisible(!looks); });
}

void AccountPanel::show_case(const casebook::CaseSnapshot& snapshot) {
    if (!snapshot_ || snapshot_->picture.id != snapshot.picture.id) told_->hide();
    snapshot_ = snapshot;
    setVisible(!session_.client_looks());
    reckon();
}

void AccountPanel::reckon() {
    accounts_.reset();
    faulty_.reset();
    const auto house = usecases::house_of(session_.book());
    if (!house) return show_refusal(house.error());
    auto accounts = usecases::accounts_of_case(*snapshot_, house->currency);
    if (!accounts) return show_refusal(accounts.error());
    accounts_ = *std::move(accounts);
    refused_->hide();
    mend_->hide();
    show_figures();
}

// Without its figures the sheet still says why, and where it is put right.
void AccountPanel::show_refusal(const Error& error) {
    refused_->setText(QStringLiteral("⊘ ") + shown(error.message + " " + error.next));
    refused_->show();
    const auto record = error.values.find("record");
    const auto id = record != error.values.end() ? parse_uuid(record->second) : parse_uuid("");
    if (id) faulty_ = *id;
    mend_->setVisible(faulty_.has_value());
    for (QWidget* each : std::initializer_list<QWidget*>{entries_, sums_, shares_, doubts_, pay_, save_}) each->hide();
}

void AccountPanel::show_figures() {
    const auto outlook = usecases::outlook_of_case(*snapshot_, accounts_->currency);
    const usecases::Outlook ahead = outlook ? *outlook : usecases::Outlook{.doubts = accounts_->doubts};
    show_lines();
    const bool has_money =
        !accounts_->entries.empty() || accounts_->paid_out.minor != 0 || accounts_->paid_in.minor != 0;
    entries_->setVisible(!accounts_->entries.empty());
    sums_->setText(sums_table(*accounts_, ahead));
    sums_->setVisible(has_money);
    shares_->setText(shares_table(*accounts_, ahead, *snapshot_));
    shares_->setVisible(!accounts_->shares.empty());
    QStringList doubts;
    for (const std::string& doubt : ahead.doubts) doubts << QStringLiteral("△ ") + capital(shown(doubt));
    doubts.removeDuplicates();
    doubts_->setText(doubts.join(u'\n'));
    doubts_->setVisible(has_money && !doubts.isEmpty());
    save_->setVisible(has_money);
    pay_->setVisible(!accounts_->entries.empty() && !session_.book().read_only());
    look_at_chosen();
}

void AccountPanel::show_lines() {
    const bool is_narrow = width() < room_for_estimates_px;
    const std::string today = to_text(session_.acting().clock.now()).substr(0, 10);
    entries_->setColumnHidden(estimates_column, is_narrow);
    entries_->show_rows(
        entry_rows(*accounts_, *snapshot_, today, is_narrow ? EstimatesIn::the_words : EstimatesIn::their_column));
}

void AccountPanel::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    const bool is_narrow = width() < room_for_estimates_px;
    if (accounts_ && entries_->isColumnHidden(estimates_column) != is_narrow) show_lines();
}

const usecases::AccountEntry* AccountPanel::chosen_open() const {
    const auto chosen = entries_->chosen();
    if (!accounts_ || !chosen) return nullptr;
    const auto found = std::ranges::find(accounts_->entries, *chosen, &usecases::AccountEntry::record);
    const bool is_open = found != accounts_->entries.end() && found->owed && found->owed->minor > 0;
    return is_open ? &*found : nullptr;
}

void AccountPanel::look_at_chosen() {
    pay_->setEnabled(chosen_open() != nullptr);
    pay_->setToolTip(pay_->isEnabled() ? QString() : tr("Choose a line of which something is still open"));
}

void AccountPanel::begin_payment() {
    const usecases::AccountEntry* entry = chosen_open();
    if (entry == nullptr) return;
    casebook::FieldValues values;
    values.text("direction", entry->incoming ? "in" : "out")
        .money("amount", *entry->owed)
        .record("settles", entry->record)
        .text("is", "payment");
    if (entry->party) values.record("party", *entry->party);
    emit payment_wanted(
        values,
        tr("All that is still open of it: %1. Change it for a part.").arg(shown(to_display_text(*entry->owed))));
}

void AccountPanel::save_csv_as(const QString& file) {
    if (!accounts_) return;
    const auto csv = usecases::accounts_csv(*snapshot_, *accounts_);
    const auto saved = csv ? save_table(file, *csv) : Expected<void>(pass_on(csv));
    told_->show();
    if (!saved) return say_in(*told_, shown(saved.error().message + " " + saved.error().next), "closed");
    say_in(*told_, tr("Saved %1.").arg(file), "done");
}

}  // namespace tedge::desk
