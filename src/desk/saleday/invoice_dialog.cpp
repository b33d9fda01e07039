#include "saleday/invoice_dialog.hpp"

#include <QClipboard>
#include <QFileDialog>
#include <QFormLayout>
#include <QGuiApplication>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPainter>
#include <QPushButton>
#include <QStyledItemDelegate>
#include <QVBoxLayout>
#include <nlohmann/json.hpp>

#include "forms/entries/entry.hpp"
#include "forms/figure_text.hpp"
#include "saleday/sale_words.hpp"
#include "tedge/base/files.hpp"
#include "tedge/usecases/lot_results.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr QSize invoice_size{760, 660};
constexpr int figure_width_px = 126;
constexpr std::uint64_t largest_invoice_bytes = 1'000'000;
constexpr int spare_rows = 2;  // for charges that the terms do not know
enum InvoiceColumn { charge_column, due_column, charged_column, difference_column };

// A cell that is typed into is seen to be one, and says what belongs there.
class TypedCell : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;
    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override {
        QStyledItemDelegate::paint(painter, option, index);
        if (!index.flags().testFlag(Qt::ItemIsEditable)) return;
        painter->save();
        painter->setPen(theme().edge);
        painter->drawRect(option.rect.adjusted(2, 2, -3, -3));
        if (index.data().toString().isEmpty() && index.column() == charge_column) {
            painter->setPen(theme().faded_ink);
            painter->drawText(option.rect.adjusted(8, 0, -8, 0), Qt::AlignVCenter | Qt::AlignLeft,
                              QObject::tr("another charge …"));
        }
        painter->restore();
    }
};

QString figure(const Money& money) {
    const QString text = shown(to_display_text(money));
    return text.mid(static_cast<qsizetype>(money.currency.code().size()) + 1);
}

Expected<Money> typed_amount(const QString& text, const Currency& currency) {
    return parse_money(plain(ungrouped(text)), currency);
}

}  // namespace

InvoiceDialog::InvoiceDialog(BookSession& session, const casebook::CaseSnapshot& snapshot, QWidget* parent)
    : SaleDialog(session, tr("The saleroom's invoice"), invoice_size, parent),
      snapshot_(snapshot),
      number_(new QLineEdit(this)),
      table_(make_table({tr("Charge"), tr("Due by the terms"), tr("Charged"), tr("Difference")}, charge_column,
                        tr("Lines of the invoice"), this)) {
    tell_lot();
    body().addWidget(table_, 1);
    auto* hint = new QLabel(tr("Type what is printed under “Charged”; charges of other names below. The saleroom's "
                               "table can be pasted: a name and an amount a line."),
                            this);
    hint->setProperty("role", "faded");
    hint->setWordWrap(true);
    body().addWidget(hint);
    add_acts();
    table_->setEditTriggers(QAbstractItemView::AnyKeyPressed | QAbstractItemView::DoubleClicked |
                            QAbstractItemView::SelectedClicked | QAbstractItemView::EditKeyPressed);
    table_->setSelectionBehavior(QAbstractItemView::SelectItems);
    table_->setItemDelegate(new TypedCell(table_));
    table_->horizontalHeader()->setMinimumSectionSize(figure_width_px);
    connect(table_, &QTableWidget::itemChanged, this, &InvoiceDialog::compare);
    begin_rows();
    has_unsaved_ = false;
    table_->setFocus();
}

void InvoiceDialog::tell_lot() {
    const auto hammer = usecases::hammer_paid(snapshot_);
    const auto lots = snapshot_.of_kind("lot");
    if (hammer) hammer_ = *hammer;
    add_head(lots.empty() ? tr("No lot is recorded.") : lot_head(*lots.back()));
    if (const auto risk = usecases::risk_standing(snapshot_)) {
        const RiskWords words = risk_words(snapshot_, *risk);
        auto* label = new QLabel(this);
        label->setWordWrap(true);
        say_in(*label, (words.is_covered ? QString() : QStringLiteral("△ ")) + words.said,
               words.is_covered ? "plain" : "warning");
        body().addWidget(label);
    }
    auto* form = new QFormLayout;
    number_->setAccessibleName(tr("Invoice number"));
    form->addRow(tr("Invoice &number"), number_);
    body().addLayout(form);
}

void InvoiceDialog::add_acts() {
    add_act(tr("&Paste"), [this] { take_text(QGuiApplication::clipboard()->text()); });
    add_act(tr("Read a &file …"), [this] { ask_for_file(); });
    add_act(tr("As &due"), [this] {
        fill_as_due();
    })->setToolTip(tr("Takes what is due as charged; change what differs"));
    keep_ = add_act(tr("&Keep with the purchase"), [this] { keep(); });
    keep_->setProperty("act", "main");
    keep_->setShortcut(QKeySequence(Qt::CTRL | Qt::Key_Return));
}

// What was kept before stands there again.
void InvoiceDialog::begin_rows() {
    if (!hammer_) {
        keep_->setEnabled(false);
        const auto none = usecases::hammer_paid(snapshot_);
        return say_error(none.error());
    }
    const auto check = usecases::check_invoice(snapshot_, {.number = {}, .lines = {}, .total = std::nullopt});
    if (check) due_ = check->lines;
    const auto lots = snapshot_.of_kind("lot");
    const casebook::Record* purchase = usecases::purchase_of(snapshot_, *lots.back());
    keep_->setEnabled(purchase != nullptr && !session().book().read_only());
    usecases::ReceivedInvoice before;
    if (purchase != nullptr) {
        number_->setText(shown(purchase->body.text_or("invoice_number")));
        const auto stored = purchase->body.as_json().value("received_invoice", nlohmann::json());
        if (auto read = usecases::parse_received_invoice(stored.dump(), hammer_->currency)) before = *std::move(read);
    }
    show_received(before);
    if (!check) say_error(check.error());
}

void InvoiceDialog::show_received(const usecases::ReceivedInvoice& received) {
    is_filling_ = true;
    table_->setRowCount(0);
    if (!received.number.empty()) number_->setText(shown(received.number));
    std::vector<bool> is_placed(received.lines.size());
    for (const money::InvoiceDifference& due : due_) {
        QString charged;
        for (std::size_t i = 0; i < received.lines.size() && charged.isEmpty(); ++i) {
            if (is_placed[i] || usecases::charge_of(received.lines[i].name) != due.charge) continue;
            is_placed[i] = true;
            charged = figure(received.lines[i].amount);
        }
        add_row(shown(money::charge_name(due.charge)), charged, true);
    }
    for (std::size_t i = 0; i < received.lines.size(); ++i)
        if (!is_placed[i]) add_row(shown(received.lines[i].name), figure(received.lines[i].amount), false);
    for (int i = 0; i < spare_rows; ++i) add_row({}, {}, false);
    add_total_row(received.total ? figure(*received.total) : QString());
    is_filling_ = false;
    table_->setCurrentCell(0, charged_column);
    compare();
}

void InvoiceDialog::add_row(const QString& name, const QString& charged, bool is_of_terms) {
    const int row = table_->rowCount();
    table_->insertRow(row);
    QTableWidgetItem* named = put_cell(*table_, row, charge_column, name);
    if (!is_of_terms) named->setFlags(named->flags() | Qt::ItemIsEditable);
    put_cell(*table_, row, due_column, is_of_terms ? figure(due_[static_cast<std::size_t>(row)].due) : QString(),
             CellSort::figure);
    QTableWidgetItem* typed = put_cell(*table_, row, charged_column, charged, CellSort::figure);
    typed->setFlags(typed->flags() | Qt::ItemIsEditable);
    put_cell(*table_, row, difference_column, {}, CellSort::figure);
}

void InvoiceDialog::add_total_row(const QString& printed) {
    add_row(tr("Total as printed"), printed, false);
    QTableWidgetItem* named = table_->item(table_->rowCount() - 1, charge_column);
    named->setFlags(Qt::ItemIsEnabled | Qt::ItemIsSelectable);
    QFont bold = table_->font();
    bold.setWeight(QFont::DemiBold);
    for (int column = 0; column < table_->columnCount(); ++column)
        table_->item(table_->rowCount() - 1, column)->setFont(bold);
}

Expected<usecases::ReceivedInvoice> InvoiceDialog::typed() const {
    usecases::ReceivedInvoice received{.number = plain(number_->text().trimmed())};
    const int total_row = table_->rowCount() - 1;
    for (int row = 0; row <= total_row; ++row) {
        const QString name = table_->item(row, charge_column)->text().trimmed();
        const QString charged = table_->item(row, charged_column)->text().trimmed();
        if (charged.isEmpty()) continue;
        if (name.isEmpty())
            return fail("invoice.not-read", plain(tr("A charge of %1 has no name.").arg(charged)),
                        plain(tr("Write its name under “Charge”.")));
        const auto amount = typed_amount(charged, hammer_->currency);
        if (!amount) return fail("invoice.not-read", plain(name) + ": " + amount.error().message, amount.error().next);
        if (row == total_row)
            received.total = *amount;
        else
            received.lines.push_back({plain(name), *amount});
    }
    return received;
}

// Nothing is said of lines that nobody has typed yet.
void InvoiceDialog::compare() {
    if (is_filling_ || !hammer_) return;
    has_unsaved_ = true;
    typed_on();
    const auto received = typed();
    if (!received) return say_error(received.error());
    const auto check = usecases::check_invoice(snapshot_, *received);
    if (!check) return say_error(check.error());
    is_filling_ = true;
    show_check(*check);
    is_filling_ = false;
    if (received->lines.empty())
        return say(tr("All-in by the terms %1. Nothing is typed yet.").arg(shown(to_display_text(check->due))),
                   "plain");
    QStringList said;
    for (const std::string& difference : check->differences) said << QStringLiteral("△ ") + shown(difference);
    for (const std::string& remark : check->remarks) said << QStringLiteral("△ ") + shown(remark);
    if (check->agrees())
        return say((QStringList{tr("● It agrees with the recorded terms.")} + said).join(u'\n'), "done");
    said << tr("Ask the saleroom about each, or put the recorded terms right.");
    say(said.join(u'\n'), "warning");
}

void InvoiceDialog::show_check(const usecases::InvoiceCheck& check) {
    const int total_row = table_->rowCount() - 1;
    const auto show = [&](int row, const std::optional<Money>& difference) {
        QTableWidgetItem* cell = table_->item(row, difference_column);
        const bool differs = difference && difference->minor != 0;
        cell->setText(!difference ? QString() : differs ? figure(*difference) : QStringLiteral("–"));
        cell->setForeground(differs ? theme().warning : theme().ink);
    };
    for (int row = 0; row < total_row; ++row) {
        const QString charged = table_->item(row, charged_column)->text().trimmed();
        const auto amount = typed_amount(charged, hammer_->currency);
        if (charged.isEmpty() || !amount) {
            show(row, std::nullopt);
        } else if (static_cast<std::size_t>(row) < due_.size()) {
            const auto difference = subtract(*amount, due_[static_cast<std::size_t>(row)].due);
            show(row, difference ? std::optional(*difference) : std::nullopt);
        } else {
            show(row, *amount);
        }
    }
    table_->item(total_row, due_column)->setText(figure(check.due));
    const auto off = subtract(check.charged, check.due);
    const bool says_something = check.charged.minor != 0;
    show(total_row, off && says_something ? std::optional(*off) : std::nullopt);
}

void InvoiceDialog::fill_as_due() {
    if (!hammer_) return;
    is_filling_ = true;
    for (std::size_t i = 0; i < due_.size(); ++i)
        table_->item(static_cast<int>(i), charged_column)->setText(figure(due_[i].due));
    is_filling_ = false;
    compare();
}

void InvoiceDialog::take_text(const QString& text) {
    if (!hammer_) return;
    if (text.trimmed().isEmpty()) return say(tr("There is no text on the clipboard."), "plain");
    const auto read = usecases::read_received_invoice(plain(text), hammer_->currency);
    if (!read) return say_error(read.error());
    show_received(*read);
}

void InvoiceDialog::ask_for_file() {
    const QString file = QFileDialog::getOpenFileName(this, tr("The invoice as a table or as JSON"), {},
                                                      tr("Tables and JSON (*.csv *.tsv *.txt *.json)"));
    if (!file.isEmpty()) take_file(file);
}

void InvoiceDialog::take_file(const QString& file) {
    const auto text = read_file(path_from_utf8(plain(file)), largest_invoice_bytes);
    if (!text) return say_error(text.error());
    take_text(shown(*text));
}

void InvoiceDialog::keep() {
    if (!hammer_ || !keep_->isEnabled()) return;
    const auto received = typed();
    if (!received) return say_error(received.error());
    if (received->lines.empty()) return say(tr("⊘ Type what is charged first."), "closed");
    auto kept = usecases::keep_invoice(session().acting(), snapshot_.picture.id, *received);
    if (!kept) return say_error(kept.error());
    session().did(*std::move(kept), tr("invoice as received"));
    accept();
}

}  // namespace tedge::desk
