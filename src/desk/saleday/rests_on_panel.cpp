#include "saleday/rests_on_panel.hpp"

#include <QLabel>
#include <QVBoxLayout>

#include "tedge/usecases/costs.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

QString support_words(const usecases::OutcomeSupport& support) {
    const QString name = support.outcome.empty() ? QObject::tr("for no outcome") : shown(support.outcome);
    QString text =
        QObject::tr("<b>%1</b>: %2 sold, %3 unsold").arg(name.toHtmlEscaped()).arg(support.sold).arg(support.unsold);
    if (support.price_minor && support.currency) {
        const auto money = [&](std::int64_t minor) { return shown(to_display_text({minor, *support.currency})); };
        text += support.sold == 1 ? QObject::tr(", at %1").arg(money(support.price_minor->likely))
                                  : QObject::tr(", from %1 to %2, in the middle %3")
                                        .arg(money(support.price_minor->low), money(support.price_minor->high),
                                             money(support.price_minor->likely));
    }
    for (const std::string& doubt : support.doubts) text += QStringLiteral("<br>△ ") + shown(doubt).toHtmlEscaped();
    return QStringLiteral("<p style=\"margin:0 0 5px 0\">%1</p>").arg(text);
}

}  // namespace

RestsOnPanel::RestsOnPanel(BookSession& session, QWidget* parent)
    : QWidget(parent), session_(session), told_(new QLabel(this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    auto* head = new QLabel(tr("What the prices rest on"), this);
    QFont bold = head->font();
    bold.setWeight(QFont::DemiBold);
    head->setFont(bold);
    column->addWidget(head);
    told_->setWordWrap(true);
    column->addWidget(told_);
    connect(&session_, &BookSession::client_looks_changed, this,
            [this](bool looks) { setVisible(says_something_ && !looks); });
}

void RestsOnPanel::show_case(const casebook::CaseSnapshot& snapshot) {
    QString text;
    for (const usecases::OutcomeSupport& support : usecases::outcome_support(snapshot)) text += support_words(support);
    says_something_ = !text.isEmpty();
    told_->setText(text);
    setVisible(says_something_ && !session_.client_looks());
}

}  // namespace tedge::desk
