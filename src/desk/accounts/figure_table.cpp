#include "accounts/figure_table.hpp"

#include <QEvent>
#include <QHeaderView>
#include <QKeyEvent>
#include <QPainter>
#include <algorithm>

#include "text.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr int row_tone = Qt::UserRole + 1;
constexpr int least_word_width = 76;

}  // namespace

FigureTable::FigureTable(const QStringList& heads, int word_columns, QWidget* parent)
    : QTableWidget(0, static_cast<int>(heads.size()), parent), word_columns_(word_columns) {
    setHorizontalHeaderLabels(heads);
    for (int column = 0; column < columnCount(); ++column)
        horizontalHeaderItem(column)->setTextAlignment((column < word_columns_ ? Qt::AlignLeft : Qt::AlignRight) |
                                                       Qt::AlignVCenter);
    setSelectionBehavior(QAbstractItemView::SelectRows);
    setSelectionMode(QAbstractItemView::SingleSelection);
    setEditTriggers(QAbstractItemView::NoEditTriggers);
    setTabKeyNavigation(false);
    setWordWrap(true);
    setTextElideMode(Qt::ElideNone);
    setShowGrid(false);
    setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    verticalHeader()->hide();
    horizontalHeader()->setHighlightSections(false);
    horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    horizontalHeader()->setMinimumSectionSize(20);
    connect(this, &QTableWidget::cellDoubleClicked, this, [this] {
        if (const auto what = chosen()) emit opened(*what);
    });
    connect(this, &QTableWidget::itemSelectionChanged, this, &FigureTable::moved_to);
}

void FigureTable::add_row(const FigureCells& cells) {
    const int row = rowCount();
    insertRow(row);
    for (int column = 0; column < columnCount(); ++column) {
        auto* item = new QTableWidgetItem(cells.cells.value(column));
        item->setTextAlignment((column < word_columns_ ? Qt::AlignLeft : Qt::AlignRight) | Qt::AlignVCenter);
        item->setToolTip(cells.tip);
        item->setData(row_tone, static_cast<int>(cells.tone));
        if (cells.opens) item->setData(Qt::UserRole, shown(to_text(*cells.opens)));
        setItem(row, column, item);
    }
}

void FigureTable::show_rows(const std::vector<FigureCells>& rows) {
    const auto before = chosen();
    {
        const QSignalBlocker quiet(this);
        setRowCount(0);
        for (const FigureCells& cells : rows) {
            add_row(cells);
            if (before && cells.opens == before) selectRow(rowCount() - 1);
        }
        give_colours();
    }
    fit();
    emit moved_to();
}

std::optional<Uuid> FigureTable::chosen() const {
    const auto rows = selectionModel()->selectedRows();
    if (rows.isEmpty()) return std::nullopt;
    const auto id = parse_uuid(plain(rows.front().data(Qt::UserRole).toString()));
    return id ? std::optional(*id) : std::nullopt;
}

void FigureTable::give_colours() {
    for (int row = 0; row < rowCount(); ++row)
        for (int column = 0; column < columnCount(); ++column)
            if (QTableWidgetItem* cell = item(row, column))
                cell->setForeground(ink_of(static_cast<Tone>(cell->data(row_tone).toInt())));
}

// Words get what the figures leave, never less than can be read; below that the table is scrolled.
void FigureTable::fit() {
    if (columnCount() == 0) return;
    int figures = 0;
    for (int column = 1; column < columnCount(); ++column) figures += columnWidth(column);
    horizontalHeader()->setSectionResizeMode(0, QHeaderView::Fixed);
    setColumnWidth(0, std::max(least_word_width, viewport()->width() - figures));
    resizeRowsToContents();
    if (!fits_) return;
    int height = horizontalHeader()->sizeHint().height() + 2 * frameWidth();
    for (int row = 0; row < rowCount(); ++row) height += rowHeight(row);
    if (figures + columnWidth(0) > viewport()->width()) height += 14;  // the bar to scroll by
    setFixedHeight(height);
}

void FigureTable::resizeEvent(QResizeEvent* event) {
    QTableWidget::resizeEvent(event);
    fit();
}

void FigureTable::changeEvent(QEvent* event) {
    QTableWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange) give_colours();
}

// A rule under each row: rows of several lines that only follow each other are read as one.
void FigureTable::paintEvent(QPaintEvent* event) {
    QTableWidget::paintEvent(event);
    QPainter painter(viewport());
    painter.setPen(theme().rule);
    for (int row = 0; row < rowCount(); ++row) {
        const int y = rowViewportPosition(row) + rowHeight(row) - 1;
        painter.drawLine(0, y, viewport()->width(), y);
    }
}

void FigureTable::keyPressEvent(QKeyEvent* event) {
    const bool is_enter = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter;
    const auto what = chosen();
    if (is_enter && what && event->modifiers() == Qt::NoModifier) {
        emit opened(*what);
        return;
    }
    QTableWidget::keyPressEvent(event);
}

}  // namespace tedge::desk
