#include "case_head.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QSignalBlocker>
#include <QVBoxLayout>

#include "fit_text.hpp"
#include "rack/rack_model.hpp"
#include "tedge/base/length.hpp"
#include "tedge/usecases/settling.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

// The title takes what it needs; what stands behind it takes the rest.
constexpr int title_first = 1000;

// A long title or place gives way instead of widening the window; the whole of it is in the tip.
void let_shrink(QLabel& label) {
    label.setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);
    label.setMinimumHeight(label.sizeHint().height());
}

}  // namespace

CaseHead::CaseHead(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      rack_(new QPushButton(tr("Rack"), this)),
      title_(new QLabel(this)),
      made_(new QLabel(this)),
      whereabouts_(new QLabel(this)),
      contested_(new QPushButton(this)),
      sale_(new QPushButton(tr("The sale"), this)),
      facts_(new QPushButton(tr("Title and size"), this)),
      client_(new QPushButton(tr("Client in the room"), this)),
      tacks_(new TackRow(this)) {
    auto* rows = new QVBoxLayout(this);
    rows->setContentsMargins(10, 6, 10, 2);
    rows->setSpacing(2);
    rack_->setCheckable(true);
    rack_->setToolTip(tr("Shows and hides the rack (F7)"));
    title_->setFont(heading_font());
    client_->setCheckable(true);
    client_->setToolTip(tr("F9 hides all money, names and private notes"));
    for (QLabel* label : {made_, whereabouts_}) label->setProperty("role", "faded");
    for (QLabel* label : {title_, made_, whereabouts_}) let_shrink(*label);
    auto* top = new QHBoxLayout;
    top->setSpacing(12);
    top->addWidget(rack_);
    top->addWidget(title_, title_first);
    top->addWidget(made_, 1);
    top->addWidget(contested_);
    top->addWidget(sale_);
    top->addWidget(facts_);
    top->addWidget(client_);
    rows->addLayout(top);
    rows->addWidget(whereabouts_);
    rows->addWidget(tacks_);
    contested_->setProperty("act", "warning");
    contested_->setToolTip(tr("What two people wrote without knowing of each other: look and settle it (F8)"));
    contested_->hide();
    connect(contested_, &QPushButton::clicked, this, &CaseHead::settling_wanted);
    facts_->setToolTip(tr("What the picture is called, who made it, how large it is: put right (F4)"));
    facts_->setShortcut(Qt::Key_F4);
    connect(facts_, &QPushButton::clicked, this, &CaseHead::facts_wanted);
    connect(rack_, &QPushButton::toggled, this, &CaseHead::rack_wanted);
    connect(client_, &QPushButton::toggled, &session_, &BookSession::set_client_looks);
    connect(&session_, &BookSession::client_looks_changed, client_, &QPushButton::setChecked);
    connect(&session_, &BookSession::client_looks_changed, facts_, &QPushButton::setHidden);
    sale_->setToolTip(tr("Terms, cards, result, invoice, what falls due (F3)"));
    connect(&session_, &BookSession::client_looks_changed, sale_, &QPushButton::setHidden);
}

void CaseHead::set_sale_menu(QMenu* menu) {
    sale_->setMenu(menu);
}

void CaseHead::open_sale_menu() {
    if (sale_->isVisible()) sale_->showMenu();
}

void CaseHead::show_rack_state(bool is_shown) {
    const QSignalBlocker quiet(rack_);
    rack_->setChecked(is_shown);
}

void CaseHead::show_case(const casebook::CaseSnapshot& snapshot) {
    const usecases::CaseCard card = usecases::card_of(snapshot);
    title_text_ = shown(card.title);
    facts_parts_.clear();
    if (!card.artist.empty()) facts_parts_ << shown(card.artist);
    if (card.size) facts_parts_ << shown(format_size_height_first(card.size->height_mm, card.size->width_mm));
    whereabouts_parts_ = whereabouts(card, session_.client_looks());
    show_contested(snapshot.picture.id);
    fit_words();
    tacks_->show_marks(card.stages, session_.client_looks() ? ClosedStages{} : closed_stages(snapshot));
}

void CaseHead::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    fit_words();
}

void CaseHead::fit_words() {
    const auto fit = [](QLabel& label, const QStringList& parts) {
        label.setText(fit_parts(parts, label.fontMetrics(), label.width()));
        const QString whole = parts.join(QStringLiteral(" · "));
        label.setToolTip(whole);
        label.setAccessibleName(whole);
    };
    title_->setMaximumWidth(title_->fontMetrics().horizontalAdvance(title_text_) + 2);
    layout()->activate();
    fit(*title_, {title_text_});
    fit(*made_, facts_parts_);
    fit(*whereabouts_, whereabouts_parts_);
}

// A client need not know that the house is of two minds.
void CaseHead::show_contested(const Uuid& case_id) {
    const auto all = usecases::disagreements(session_.book(), case_id);
    const std::size_t count = all ? all->size() : 0;
    contested_->setText(QStringLiteral("△ ") + tr("%1 told differently").arg(count));
    contested_->setAccessibleName(contested_words(count));
    contested_->setVisible(count > 0 && !session_.client_looks());
}

}  // namespace tedge::desk
