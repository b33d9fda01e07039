#include "accounts/house_form.hpp"

#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

#include "forms/entries/entry.hpp"
#include "tedge/usecases/house.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int house_line_width = 280;

}  // namespace

HouseForm::HouseForm(BookSession& session, QWidget* parent)
    : QWidget(parent),
      session_(session),
      name_(new QLineEdit(this)),
      currency_(new QLineEdit(this)),
      country_(new QLineEdit(this)),
      price_code_(new QLineEdit(this)),
      save_(new QPushButton(tr("&Save"), this)),
      forget_(new QPushButton(tr("Take the code away"), this)),
      told_(new QLabel(this)) {
    auto* form = new QFormLayout(this);
    form->setFieldGrowthPolicy(QFormLayout::FieldsStayAtSizeHint);
    for (QLineEdit* line : {name_, currency_, country_, price_code_}) {
        line->setMinimumHeight(target_px);
        line->setFixedWidth(house_line_width);
        connect(line, &QLineEdit::returnPressed, this, &HouseForm::save);
    }
    currency_->setPlaceholderText(tr("GBP"));
    country_->setPlaceholderText(tr("GB"));
    price_code_->setEchoMode(QLineEdit::Password);  // somebody may be looking
    for (QPushButton* each : {save_, forget_}) {
        each->setMinimumHeight(target_px);
        each->setAutoDefault(false);
    }
    save_->setProperty("act", "main");
    told_->setWordWrap(true);
    form->addRow(tr("&Name"), name_);
    form->addRow(tr("Accounts kept in"), currency_);
    form->addRow(tr("Country, two letters"), country_);
    form->addRow(tr("&Private price code"), price_code_);
    auto* acts = new QHBoxLayout;
    acts->addWidget(save_);
    acts->addWidget(forget_);
    acts->addStretch();
    form->addRow(acts);
    form->addRow(told_);
    connect(save_, &QPushButton::clicked, this, &HouseForm::save);
    connect(forget_, &QPushButton::clicked, this, &HouseForm::forget_code);
}

void HouseForm::look() {
    const auto house = usecases::house_of(session_.book());
    if (!house) return say_in(*told_, shown(house.error().message + " " + house.error().next), "closed");
    const bool writes = !session_.book().read_only();
    for (QLineEdit* line : {name_, currency_, country_, price_code_}) line->setReadOnly(!writes);
    save_->setEnabled(writes);
    // What is being typed is not taken away because something else changed meanwhile.
    for (const auto& [line, text] :
         {std::pair(name_, house->name), std::pair(currency_, std::string(house->currency.code())),
          std::pair(country_, house->country)})
        if (!line->isModified()) line->setText(shown(text));
    const bool has_code = !house->price_code.empty();
    forget_->setVisible(has_code && writes);
    price_code_->setPlaceholderText(has_code ? tr("there is one; type another") : tr("ten different letters"));
}

void HouseForm::save() {
    usecases::HouseChange change;
    if (name_->isModified()) change.name = plain(name_->text().trimmed());
    if (currency_->isModified()) change.currency = plain(currency_->text().trimmed().toUpper());
    if (country_->isModified()) change.country = plain(country_->text());
    if (!price_code_->text().trimmed().isEmpty()) change.price_code = plain(price_code_->text().trimmed());
    if (!change.name && !change.currency && !change.country && !change.price_code)
        return say_in(*told_, tr("Nothing is changed."), "plain");
    auto done = usecases::change_house(session_.acting(), change);
    if (!done) return say_in(*told_, shown(done.error().message + " " + done.error().next), "closed");
    for (QLineEdit* line : {name_, currency_, country_, price_code_}) line->setModified(false);
    price_code_->clear();
    session_.did(*std::move(done), tr("what holds for the house"));
    say_in(*told_, tr("Saved."), "done");
}

void HouseForm::forget_code() {
    auto done = usecases::change_house(session_.acting(), {.price_code = ""});
    if (!done) return say_in(*told_, shown(done.error().message + " " + done.error().next), "closed");
    session_.did(*std::move(done), tr("the price code"));
    say_in(*told_, tr("The code is taken away: the price list shows no costs."), "done");
}

}  // namespace tedge::desk
