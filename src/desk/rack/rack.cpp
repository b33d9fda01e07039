#include "rack/rack.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QListView>
#include <QPushButton>
#include <QVBoxLayout>

#include "rack/card_delegate.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

Rack::Rack(BookSession& session, SmallPictures& pictures, QWidget* parent)
    : QWidget(parent),
      model_(new RackModel(session, pictures, this)),
      list_(new QListView(this)),
      search_(new QLineEdit(this)),
      today_(new QLabel(this)) {
    auto* column = new QVBoxLayout(this);
    auto* title = new QLabel(tr("The rack"), this);
    title->setFont(heading_font());
    column->addWidget(title);
    search_->setPlaceholderText(tr("Find a picture, a label, a source"));
    search_->setAccessibleName(tr("Search the rack"));
    search_->setClearButtonEnabled(true);
    column->addWidget(search_);
    list_->setModel(model_);
    list_->setItemDelegate(new CardDelegate(list_));
    list_->setUniformItemSizes(true);
    list_->setAccessibleName(tr("Pictures"));
    list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list_->setResizeMode(QListView::Adjust);
    list_->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    column->addWidget(list_, 1);
    auto* add = new QPushButton(tr("&New picture"), this);
    add->setToolTip(tr("Ctrl+Shift+N"));
    column->addWidget(add);
    auto* people = new QPushButton(tr("&People"), this);
    people->setToolTip(tr("Names, firms, addresses (F10)"));
    auto* all = new QHBoxLayout;
    all->addWidget(people);
    column->addLayout(all);
    connect(people, &QPushButton::clicked, this, &Rack::people_wanted);
    connect(&session, &BookSession::client_looks_changed, people, &QPushButton::setHidden);
    auto* house = new QPushButton(tr("The &house"), this);
    house->setToolTip(tr("All pictures and their money, stock book, price list (F12)"));
    all->addWidget(house);
    connect(house, &QPushButton::clicked, this, &Rack::house_wanted);
    auto* due = new QPushButton(tr("What falls d&ue"), this);
    due->setToolTip(tr("Deadlines and sales of all pictures, the next first (F11)"));
    column->addWidget(due);
    connect(due, &QPushButton::clicked, this, &Rack::deadlines_wanted);
    connect(&session, &BookSession::client_looks_changed, due, &QPushButton::setHidden);
    today_->setWordWrap(true);
    column->addWidget(today_);
    connect(add, &QPushButton::clicked, this, &Rack::new_case_wanted);
    connect(search_, &QLineEdit::textChanged, model_, &RackModel::search);
    connect(list_->selectionModel(), &QItemSelectionModel::currentChanged, this, [this](const QModelIndex& index) {
        if (!index.isValid()) return;
        chosen_ = model_->card(index.row()).card.id;
        emit chosen(*chosen_);
    });
    connect(model_, &QAbstractItemModel::modelReset, this, [this] {
        restore_choice();
        show_today();
    });
    connect(model_, &QAbstractItemModel::dataChanged, this, &Rack::show_today);
    connect(&session, &BookSession::client_looks_changed, this, &Rack::show_today);
    show_today();
}

void Rack::restore_choice() {
    if (chosen_) choose(*chosen_);
}

void Rack::choose(const Uuid& case_id) {
    chosen_ = case_id;
    for (int row = 0; row < model_->rowCount(); ++row) {
        if (model_->card(row).card.id == case_id) list_->setCurrentIndex(model_->index(row));
    }
}

void Rack::focus_search() {
    search_->setFocus();
    search_->selectAll();
}

// What falls due and which gates are closed is the house's own business.
void Rack::show_today() {
    today_->setVisible(!model_->client_looks());
    today_->setText(tr("Today: %1 due within a week · %2 gates closed")
                        .arg(model_->due_within_a_week())
                        .arg(model_->gates_closed()));
}

}  // namespace tedge::desk
