#include "people/people_dialog.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QSignalBlocker>
#include <QVBoxLayout>
#include <algorithm>

#include "forms/entries/entry.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

constexpr QSize people_size{820, 640};
constexpr int list_width_px = 290;

}  // namespace

QString person_line(const casebook::Body& person) {
    QStringList parts{shown(person.text_or("name"))};
    if (person.has("role")) parts << spoken(person.text_or("role"));
    if (person.has("firm")) parts << shown(person.text_or("firm"));
    return parts.join(QStringLiteral(" · "));
}

PeopleDialog::PeopleDialog(BookSession& session, Drafts& drafts, QWidget* parent)
    : QDialog(parent),
      session_(session),
      search_(new QLineEdit(this)),
      list_(new QListWidget(this)),
      none_(new QLabel(tr("Choose a person, or write a new one down."), this)),
      form_(new RecordForm(session, drafts, this)) {
    setWindowTitle(tr("People of this casebook"));
    resize(people_size.boundedTo(parent != nullptr ? parent->window()->size() : people_size));
    make_layout();
    const auto close_form = [this] {
        form_->hide();
        none_->show();
        read_again();
    };
    connect(form_, &RecordForm::closed, this, close_form);
    connect(form_, &RecordForm::saved, this, [this, close_form](const Uuid& person) {
        close_form();
        choose(person);
    });
    connect(search_, &QLineEdit::textChanged, this, &PeopleDialog::narrow);
    const auto open_item = [this](const QListWidgetItem* item) {
        if (const auto id = parse_uuid(plain(item->data(Qt::UserRole).toString()))) open_person(*id);
    };
    connect(list_, &QListWidget::itemActivated, this, open_item);
    connect(list_, &QListWidget::itemClicked, this, open_item);
    form_->hide();
    read_again();
}

void PeopleDialog::make_layout() {
    auto* sides = new QHBoxLayout(this);
    auto* left = new QVBoxLayout;
    search_->setPlaceholderText(tr("Find a name, a firm"));
    search_->setAccessibleName(tr("Search the people"));
    search_->setClearButtonEnabled(true);
    search_->setMinimumHeight(target_px);
    list_->setAccessibleName(tr("People"));
    list_->setWordWrap(true);
    list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    auto* add = new QPushButton(tr("&New person"), this);
    add->setMinimumHeight(target_px);
    add->setAutoDefault(false);
    add->setEnabled(!session_.book().read_only());
    connect(add, &QPushButton::clicked, this, &PeopleDialog::begin_new);
    auto* close = new QPushButton(tr("&Close"), this);
    close->setMinimumHeight(target_px);
    close->setAutoDefault(false);
    connect(close, &QPushButton::clicked, this, &QDialog::accept);
    for (QWidget* each : std::initializer_list<QWidget*>{search_, list_, add, close}) {
        each->setFixedWidth(list_width_px);
        left->addWidget(each);
    }
    sides->addLayout(left);
    none_->setProperty("role", "faded");
    sides->addWidget(none_, 1, Qt::AlignCenter);
    sides->addWidget(form_, 1);
}

void PeopleDialog::read_again() {
    const auto people = session_.book().people();
    const QSignalBlocker quiet(list_);
    list_->clear();
    if (!people) return;
    std::vector<std::pair<QString, Uuid>> lines;
    for (const casebook::Record& person : *people) lines.emplace_back(person_line(person.body), person.id);
    std::ranges::sort(lines,
                      [](const auto& a, const auto& b) { return a.first.compare(b.first, Qt::CaseInsensitive) < 0; });
    for (const auto& [line, id] : lines) {
        auto* item = new QListWidgetItem(line, list_);
        item->setData(Qt::UserRole, shown(to_text(id)));
        item->setSizeHint({0, target_px});
    }
    narrow(search_->text());
}

void PeopleDialog::narrow(const QString& words) {
    for (int row = 0; row < list_->count(); ++row) {
        QListWidgetItem* item = list_->item(row);
        item->setHidden(!item->text().contains(words.trimmed(), Qt::CaseInsensitive));
    }
}

void PeopleDialog::choose(const Uuid& person) {
    for (int row = 0; row < list_->count(); ++row) {
        if (list_->item(row)->data(Qt::UserRole).toString() == shown(to_text(person))) list_->setCurrentRow(row);
    }
}

void PeopleDialog::begin_new() {
    none_->hide();
    form_->show();
    form_->begin_new(Uuid{}, *casebook::find_kind("person"));
}

void PeopleDialog::open_person(const Uuid& person) {
    const auto record = session_.book().record(person);
    if (!record) return;
    none_->hide();
    form_->show();
    form_->edit(*record);
}

}  // namespace tedge::desk
