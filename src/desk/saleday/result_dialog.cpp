#include "saleday/result_dialog.hpp"

#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>
#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <utility>

#include "forms/at_hand.hpp"
#include "forms/form_context.hpp"
#include "saleday/sale_words.hpp"
#include "tedge/usecases/usual_currency.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr QSize result_size{560, 760};

struct AskedField {
    std::string_view kind;
    std::string_view field;
    std::string_view asked_of;  // results after which it is asked, with blanks between; empty: of each
};

constexpr std::array asked_fields{
    AskedField{"lot", "result", ""},
    AskedField{"lot", "hammer", "bought underbid bought-in not-bid"},
    AskedField{"lot", "our_last_bid", "underbid"},
    AskedField{"lot", "after_sale_offer", "bought-in"},
    AskedField{"purchase", "bought_on", "bought"},
    AskedField{"custody", "insured_by", "bought"},
    AskedField{"custody", "insured_value", "bought"},
    AskedField{"purchase", "scheme", "bought"},
    AskedField{"purchase", "invoice_number", "bought"},
    AskedField{"purchase", "paid_on", "bought"},
    AskedField{"purchase", "collected_on", "bought"},
};

bool is_asked(const AskedField& asked, const std::string& result) {
    if (asked.asked_of.empty()) return true;
    return !result.empty() && (" " + std::string(asked.asked_of) + " ").find(" " + result + " ") != std::string::npos;
}

casebook::Body standing_of(const casebook::CaseSnapshot& snapshot, const casebook::Record* lot, std::string_view kind) {
    if (kind == "lot") return lot != nullptr ? lot->body : casebook::Body();
    const casebook::Record* found = kind == "purchase" && lot != nullptr ? usecases::purchase_of(snapshot, *lot)
                                                                         : usecases::custody_of_risk(snapshot);
    return found != nullptr ? found->body : casebook::Body();
}

}  // namespace

ResultDialog::ResultDialog(BookSession& session, const casebook::CaseSnapshot& snapshot, QWidget* parent)
    : SaleDialog(session, tr("What became of the lot"), result_size, parent),
      context_(form_context(session, snapshot, casebook::find_kind("lot"))),
      ahead_(new QLabel(this)) {
    const auto lots = context_.snapshot.of_kind("lot");
    lot_ = lots.empty() ? nullptr : lots.back();
    add_head(lot_ != nullptr ? lot_head(*lot_) : tr("No lot is recorded."));
    auto* inside = new QWidget(this);
    auto* column = new QVBoxLayout(inside);
    column->setContentsMargins(0, 0, 8, 0);
    build(*column);
    auto* area = new QScrollArea(this);
    area->setWidget(inside);
    area->setWidgetResizable(true);
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    area->setFocusPolicy(Qt::NoFocus);
    body().addWidget(area, 1);
    ahead_->setWordWrap(true);
    body().addWidget(ahead_);
    QPushButton* record = add_act(tr("&Record it"), [this] { this->record(); });
    record->setProperty("act", "main");
    record->setEnabled(lot_ != nullptr && !session.book().read_only());
    record->setShortcut(QKeySequence(Qt::CTRL | Qt::Key_Return));
    record->setToolTip(tr("Ctrl+Return"));
    show_wanted_fields();
    tell_ahead();
    editor("result")->entry()->setFocus();
}

void ResultDialog::build(QVBoxLayout& column) {
    context_.currency = shown(usecases::currency_of_sale(session().book(), context_.snapshot).code());
    for (const AskedField& asked : asked_fields) {
        const casebook::Field& field = *casebook::find_kind(asked.kind)->field(asked.field);
        auto* made = new FieldEditor(field, context_, offered_for(field, context_), this);
        made->show_value(standing_of(context_.snapshot, lot_, asked.kind));
        connect(made, &FieldEditor::edited, this, [this] {
            typed_on();
            show_wanted_fields();
            tell_ahead();
        });
        column.addWidget(made);
        editors_.push_back(made);
    }
    column.addStretch(1);
}

FieldEditor* ResultDialog::editor(std::string_view field) const {
    const auto found = std::ranges::find_if(editors_, [&](const FieldEditor* e) { return e->field().name == field; });
    return found != editors_.end() ? *found : nullptr;
}

bool ResultDialog::has_unsaved() const {
    return std::ranges::any_of(editors_, [](const FieldEditor* each) { return each->touched(); });
}

std::string ResultDialog::said_result() const {
    return plain(editor("result")->typed());
}

void ResultDialog::show_wanted_fields() {
    for (std::size_t i = 0; i < asked_fields.size(); ++i)
        editors_[i]->setVisible(is_asked(asked_fields[i], said_result()));
}

std::optional<usecases::LotResult> ResultDialog::typed(bool with_faults) {
    casebook::FieldValues values;
    bool fits = true;
    for (std::size_t i = 0; i < asked_fields.size(); ++i) {
        if (!is_asked(asked_fields[i], said_result()) || editors_[i]->typed().isEmpty()) continue;
        // An editor that was not touched gives nothing: what it shows is read all the same.
        casebook::FieldValues one;
        const Typed read = read_typed(editors_[i]->field(), editors_[i]->typed(), context_, one);
        if (!read.fits()) {
            if (with_faults) editors_[i]->show_fault(read.fault);
            fits = false;
            continue;
        }
        for (const auto& [path, value] : one.set_values().items()) values.value(path, value);
    }
    if (!fits && with_faults) return std::nullopt;
    const casebook::Body said(values.set_values());
    return usecases::LotResult{.result = said.text_or("result"),
                               .hammer = said.money("hammer"),
                               .our_last_bid = said.money("our_last_bid"),
                               .after_sale_offer = said.money("after_sale_offer"),
                               .bought_on = said.text_or("bought_on"),
                               .scheme = said.text_or("scheme"),
                               .invoice_number = said.text_or("invoice_number"),
                               .paid_on = said.text_or("paid_on"),
                               .collected_on = said.text_or("collected_on"),
                               .insured_by = said.text_or("insured_by"),
                               .insured_value = said.money("insured_value")};
}

// Against the limit and in all, before it is recorded.
void ResultDialog::tell_ahead() {
    const auto wanted = lot_ != nullptr ? typed(false) : std::nullopt;
    QStringList said;
    const auto begins = lot_ != nullptr ? parse_instant(lot_->body.text_or("sale_at")) : fail("time.none", "", "");
    if (begins && *begins > session().how().clock->now()) said << tr("△ The sale is still to come.");
    // What stands already needs the room for what is said now: paid, insured, collected.
    const bool is_news = has_unsaved() || context_.snapshot.of_kind("purchase").empty();
    if (is_news && wanted && !wanted->result.empty()) {
        const auto found = usecases::post_mortem_if(context_.snapshot, *wanted);
        if (found) said << shown(found->said.front());
        if (found && found->at_price) said << shown(found->said.back());
        if (wanted->result == "bought" && wanted->hammer) {
            const auto bill = usecases::expected_invoice(context_.snapshot, *wanted->hammer);
            said << (bill ? expected_words(*bill) : QStringLiteral("△ ") + error_words(bill.error()));
        }
    }
    ahead_->setText(said.join(u'\n'));
}

void ResultDialog::record() {
    if (lot_ == nullptr) return;
    const auto wanted = typed(true);
    if (!wanted) return;
    if (wanted->result.empty()) return say(tr("⊘ Say what became of it first."), "closed");
    auto done = usecases::record_lot_result(session().acting(), context_.snapshot.picture.id, *wanted);
    if (!done) {
        const auto field = done.error().values.find("field");
        FieldEditor* at_fault = field != done.error().values.end() ? editor(field->second) : nullptr;
        if (at_fault == nullptr) return say_error(done.error());
        at_fault->show_fault(shown(done.error().message));
        return at_fault->entry()->setFocus();
    }
    session().did(std::exchange(done->done, {}), tr("result of the lot: %1").arg(result_words(wanted->result)));
    recorded_ = *std::move(done);
    accept();
}

}  // namespace tedge::desk
