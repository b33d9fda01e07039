#include "ceiling/suggested_costs.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>
#include <cmath>
#include <nlohmann/json.hpp>

#include "ceiling/typed_plan.hpp"
#include "tedge/usecases/usual_currency.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

using nlohmann::json;
using usecases::Needed;
using usecases::SuggestedCost;

// "45 – 55 – 70" an hour, or one figure for certain.
std::optional<usecases::HourlyRate> rate_typed(const QString& typed, const Currency& currency) {
    const json said = estimate_typed(typed);
    const json points = said.is_array() ? said : json::array({said, said, said});
    if (points.size() != 3) return std::nullopt;
    std::array<std::int64_t, 3> minor{};
    for (std::size_t i = 0; i < 3; ++i) {
        if (!points[i].is_number() || points[i].get<double>() < 0.0 || points[i].get<double>() > 1e6)
            return std::nullopt;
        minor[i] = std::llround(points[i].get<double>() * static_cast<double>(currency.minor_per_major()));
    }
    if (minor[0] > minor[1] || minor[1] > minor[2]) return std::nullopt;
    return usecases::HourlyRate{{minor[0], minor[1], minor[2]}, currency};
}

QString faded(const QString& text) {
    return QStringLiteral("<span style=\"color:%1\">%2</span>").arg(theme().faded_ink.name(), text.toHtmlEscaped());
}

QString cost_words(const SuggestedCost& cost, const Currency& currency) {
    const auto money = [&](std::int64_t minor) { return shown(to_display_text({minor, currency})); };
    const QString mark = cost.needed == Needed::yes ? QStringLiteral("●") : QStringLiteral("?");
    const QString price =
        cost.needed == Needed::no
            ? QObject::tr("not needed")
            : QObject::tr("%1 – %2 – %3")
                  .arg(money(cost.amount_minor.low), money(cost.amount_minor.likely), money(cost.amount_minor.high));
    return QStringLiteral("<p style=\"margin:0 0 5px 0\">%1 <b>%2</b> %3<br>%4</p>")
        .arg(cost.needed == Needed::no ? QStringLiteral("–") : mark, shown(cost.name).toHtmlEscaped(),
             price.toHtmlEscaped(), faded(shown(cost.because)));
}

// Each source once: a table from memory must not be read eight times over.
QString sources_words(const std::vector<SuggestedCost>& costs) {
    QStringList sources;
    for (const SuggestedCost& cost : costs) {
        if (cost.needed != Needed::no && !sources.contains(shown(cost.source))) sources << shown(cost.source);
    }
    return faded(QObject::tr("● needed, ? may be needed. Rests on: %1.").arg(sources.join(QStringLiteral("; "))));
}

}  // namespace

SuggestedCosts::SuggestedCosts(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      rate_(new QLineEdit(this)),
      told_(new QLabel(this)),
      record_(new QPushButton(tr("Record these as costs"), this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    auto* line = new QHBoxLayout;
    auto* suggest = new QPushButton(tr("Su&ggest costs"), this);
    rate_->setPlaceholderText(tr("an hour costs: low – likely – high"));
    rate_->setMinimumWidth(60);
    rate_->setAccessibleName(tr("What an hour of work costs"));
    line->addWidget(rate_, 1);
    line->addWidget(suggest);
    told_->setWordWrap(true);
    column->addLayout(line);
    auto* book = new QPushButton(tr("Price &book …"), this);
    book->setToolTip(tr("What acts came to in past cases"));
    connect(book, &QPushButton::clicked, this, &SuggestedCosts::price_book_wanted);
    column->addWidget(told_);
    column->addWidget(book, 0, Qt::AlignLeft);
    column->addWidget(record_, 0, Qt::AlignLeft);
    told_->hide();
    record_->hide();
    connect(suggest, &QPushButton::clicked, this, &SuggestedCosts::suggest);
    connect(rate_, &QLineEdit::returnPressed, this, &SuggestedCosts::suggest);
    connect(record_, &QPushButton::clicked, this, &SuggestedCosts::record);
    connect(&session_, &BookSession::client_looks_changed, this, [this](bool looks) { setVisible(!looks); });
}

void SuggestedCosts::show_case(const casebook::CaseSnapshot& snapshot) {
    if (snapshot_ && snapshot_->picture.id != snapshot.picture.id) {
        told_->hide();
        record_->hide();
    }
    snapshot_ = snapshot;
    setVisible(!session_.client_looks() && !session_.book().read_only());
}

void SuggestedCosts::say(const QString& text, const char* role) {
    say_in(*told_, text, role);
    told_->show();
}

void SuggestedCosts::suggest() {
    if (!snapshot_) return;
    record_->hide();
    currency_ = usecases::usual_currency(session_.book(), snapshot_->picture.id);
    const auto rate = rate_typed(rate_->text(), *currency_);
    if (!rate) return say(tr("Say what an hour costs, as 55 or 45 – 55 – 70."), "closed");
    const auto prices = usecases::price_book(session_.book(), snapshot_->picture.id);
    const auto made = prices ? usecases::suggest_costs(*snapshot_, *rate, *prices)
                             : Expected<std::vector<SuggestedCost>>(pass_on(prices));
    if (!made) return say(shown(made.error().message + " " + made.error().next), "closed");
    suggested_ = *made;
    QString told;
    for (const SuggestedCost& cost : suggested_) told += cost_words(cost, *currency_);
    say(told + sources_words(suggested_), "plain");
    record_->setVisible(!suggested_.empty());
}

void SuggestedCosts::record() {
    if (!snapshot_ || !currency_) return;
    auto done = usecases::record_suggested(session_.acting(), snapshot_->picture.id, suggested_, *currency_);
    if (!done) return say(shown(done.error().message + " " + done.error().next), "closed");
    record_->hide();
    if (done->empty()) return say(tr("Each of them has a cost already."), "plain");
    session_.did(*done, tr("suggested costs"));
    say(tr("%1 costs recorded; change them where you know better.").arg(done->size()), "done");
}

}  // namespace tedge::desk
