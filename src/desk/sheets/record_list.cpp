#include "sheets/record_list.hpp"

#include <QEvent>
#include <QPainter>
#include <QStyledItemDelegate>

#include "client_screen.hpp"
#include "easel/place_labels.hpp"
#include "sheets/lines/record_line.hpp"
#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int least_height = 200;
constexpr int room_for_rule = 6;

constexpr int tone_role = Qt::UserRole + 1;

void give_colour(QListWidgetItem& item) {
    const QVariant tone = item.data(tone_role);
    item.setForeground(tone.isNull() ? theme().faded_ink : ink_of(static_cast<Tone>(tone.toInt())));
}

// A rule under each record, and room for it: lines that only follow each other are read as one text.
class RuledDelegate : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;
    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override {
        return QStyledItemDelegate::sizeHint(option, index) + QSize(0, room_for_rule);
    }
    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override {
        QStyledItemDelegate::paint(painter, option, index);
        if (!index.data(tone_role).isValid()) return;
        painter->save();
        painter->setPen(theme().rule);
        painter->drawLine(option.rect.bottomLeft(), option.rect.bottomRight());
        painter->restore();
    }
};

}  // namespace

RecordList::RecordList(QWidget* parent) : QListWidget(parent) {
    setWordWrap(true);
    setMinimumHeight(least_height);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    setResizeMode(QListView::Adjust);
    setSpacing(1);
    setItemDelegate(new RuledDelegate(this));
    connect(this, &QListWidget::itemActivated, this, [this](const QListWidgetItem* item) {
        if (const auto id = id_of(item)) emit opened(*id);
    });
    connect(this, &QListWidget::currentItemChanged, this, [this](const QListWidgetItem* item) {
        if (const auto id = id_of(item)) emit moved_to(*id);
    });
}

std::optional<Uuid> RecordList::id_of(const QListWidgetItem* item) {
    if (item == nullptr) return std::nullopt;
    const auto id = parse_uuid(plain(item->data(Qt::UserRole).toString()));
    return id ? std::optional(*id) : std::nullopt;
}

void RecordList::changeEvent(QEvent* event) {
    QListWidget::changeEvent(event);
    if (event->type() != QEvent::PaletteChange) return;
    for (int row = 0; row < count(); ++row) give_colour(*item(row));
}

void RecordList::add_heading(const casebook::Kind& kind, std::size_t count) {
    auto* heading = new QListWidgetItem(QStringLiteral("%1 (%2)").arg(capital(shown(kind.plural))).arg(count), this);
    heading->setFlags(Qt::NoItemFlags);
    QFont font = text_font();
    font.setWeight(QFont::DemiBold);
    heading->setFont(font);
    give_colour(*heading);
}

void RecordList::add_record(const casebook::Record& record, const casebook::CaseSnapshot& snapshot,
                            const Drafts& drafts, const QString& label, bool client_looks) {
    const RecordLine told = line_of(record, snapshot, client_looks);
    const QString id = shown(to_text(record.id));
    const QString text = line({label, told.text});  // called as on the easel
    auto* item = new QListWidgetItem(drafts.has(id) ? tr("✎ half typed · %1").arg(text) : text, this);
    item->setData(Qt::UserRole, id);
    item->setData(tone_role, static_cast<int>(told.tone));
    give_colour(*item);
}

void RecordList::show_records(const std::vector<std::string_view>& kinds, const casebook::CaseSnapshot& snapshot,
                              const Drafts& drafts, bool client_looks) {
    const auto before = chosen();
    const QSignalBlocker quiet(this);
    clear();
    const auto labels = place_labels(snapshot);
    for (const std::string_view name : kinds) {
        const casebook::Kind* kind = casebook::find_kind(name);
        const auto records = in_order(name, snapshot);
        if (records.empty() || (client_looks && hidden_from_client(*kind))) continue;
        add_heading(*kind, records.size());
        for (const casebook::Record* record : records) {
            const auto label = labels.find(record->id);
            add_record(*record, snapshot, drafts, label != labels.end() ? label->second : QString(), client_looks);
            if (before == record->id) setCurrentRow(count() - 1);
        }
    }
}

}  // namespace tedge::desk
