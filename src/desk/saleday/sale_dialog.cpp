#include "saleday/sale_dialog.hpp"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>
#include <QShortcut>
#include <QVBoxLayout>

#include "forms/entries/entry.hpp"
#include "forms/flow_layout.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int row_height_px = 32;
constexpr int around_px = 40;  // of the window behind stays in sight

}  // namespace

SaleDialog::SaleDialog(BookSession& session, const QString& title, QSize wanted, QWidget* parent)
    : QDialog(parent), session_(session), body_(new QVBoxLayout), told_(new QLabel(this)), acts_(new QWidget(this)) {
    setWindowTitle(title);
    const QSize room = parent != nullptr ? parent->window()->size() - QSize(around_px, around_px) : wanted;
    resize(wanted.boundedTo(room));
    auto* column = new QVBoxLayout(this);
    column->addLayout(body_, 1);
    told_->setWordWrap(true);
    told_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    told_->hide();
    column->addWidget(told_);
    new FlowLayout(acts_);
    auto* foot = new QHBoxLayout;
    foot->addWidget(acts_, 1);
    column->addLayout(foot);
    auto* close = new QPushButton(tr("C&lose"), this);
    close->setMinimumHeight(target_px);
    close->setAutoDefault(false);
    connect(close, &QPushButton::clicked, this, &QDialog::reject);
    foot->addWidget(close, 0, Qt::AlignBottom);
    auto* client = new QShortcut(QKeySequence(Qt::Key_F9), this);
    connect(client, &QShortcut::activated, this, [this] { session_.set_client_looks(true); });
    connect(&session_, &BookSession::client_looks_changed, this, [this](bool looks) {
        if (looks) done(QDialog::Rejected);
    });
}

void SaleDialog::reject() {
    if (!has_unsaved() || has_warned_) return QDialog::reject();
    has_warned_ = true;
    say(tr("△ What is typed is not saved yet. Save it (Ctrl+Return), or close once more to throw it away."), "warning");
}

void SaleDialog::add_head(const QString& text) {
    auto* head = new QLabel(text, this);
    QFont bold = head->font();
    bold.setWeight(QFont::DemiBold);
    head->setFont(bold);
    head->setWordWrap(true);
    body_->addWidget(head);
}

QPushButton* SaleDialog::add_act(const QString& text, std::function<void()> act) {
    auto* made = new QPushButton(text, this);
    made->setMinimumHeight(target_px);
    made->setAutoDefault(false);
    connect(made, &QPushButton::clicked, this, [act = std::move(act)] { act(); });
    add_beside_acts(made);
    return made;
}

void SaleDialog::add_beside_acts(QWidget* widget) {
    acts_->layout()->addWidget(widget);
}

void SaleDialog::say(const QString& text, const char* role) {
    say_in(*told_, text, role);
    told_->setVisible(!text.isEmpty());
}

void SaleDialog::say_error(const Error& error) {
    say(QStringLiteral("⊘ ") + error_words(error), "closed");
}

QTableWidget* make_table(const QStringList& heads, int wide_column, const QString& name, QWidget* parent) {
    auto* table = new QTableWidget(0, static_cast<int>(heads.size()), parent);
    table->setHorizontalHeaderLabels(heads);
    for (int column = 0; column < heads.size(); ++column) {
        const bool is_words = column == wide_column || column == 0;
        table->horizontalHeaderItem(column)->setTextAlignment((is_words ? Qt::AlignLeft : Qt::AlignRight) |
                                                              Qt::AlignVCenter);
        table->horizontalHeader()->setSectionResizeMode(
            column, column == wide_column ? QHeaderView::Stretch : QHeaderView::ResizeToContents);
    }
    table->horizontalHeader()->setHighlightSections(false);
    table->verticalHeader()->hide();
    table->verticalHeader()->setDefaultSectionSize(row_height_px);
    table->setAccessibleName(name);
    table->setSelectionBehavior(QAbstractItemView::SelectRows);
    table->setSelectionMode(QAbstractItemView::SingleSelection);
    table->setShowGrid(false);
    table->setTabKeyNavigation(false);
    table->setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    return table;
}

QTableWidgetItem* put_cell(QTableWidget& table, int row, int column, const QString& text, CellSort sort) {
    auto* item = new QTableWidgetItem(text);
    item->setFlags(Qt::ItemIsEnabled | Qt::ItemIsSelectable);
    item->setTextAlignment((sort == CellSort::figure ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter);
    item->setToolTip(text);
    table.setItem(row, column, item);
    return item;
}

void fit_to_rows(QTableWidget& table) {
    const int rows = table.verticalHeader()->length();
    table.setFixedHeight(table.horizontalHeader()->sizeHint().height() + rows + 2 * table.frameWidth() + 2);
    table.setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
}

std::chrono::year_month_day day_of_desk(BookSession& session) {
    return std::chrono::year_month_day(std::chrono::floor<std::chrono::days>(session.how().clock->now()));
}

QString error_words(const Error& error) {
    return shown(error.message + " " + error.next);
}

}  // namespace tedge::desk
