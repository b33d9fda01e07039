#include "sheets/dossier_pages.hpp"

#include <QKeyEvent>
#include <QLabel>
#include <QPdfDocument>
#include <QPdfPageNavigator>
#include <QPdfView>
#include <QScrollBar>
#include <QToolBar>
#include <QVBoxLayout>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>

#include "sheets/dossier_work.hpp"
#include "theme.hpp"

namespace tedge::desk {

namespace {

constexpr double zoom_step = 1.25;
constexpr double least_zoom = 0.2;
constexpr double most_zoom = 6.0;
constexpr int page_gap_px = 14;

}  // namespace

DossierPages::DossierPages(QWidget* parent)
    : QWidget(parent),
      document_(new QPdfDocument(this)),
      tools_(new QToolBar(this)),
      where_(new QLabel(this)),
      view_(new QPdfView(this)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(8, 0, 8, 8);
    column->setSpacing(3);
    where_->setMargin(6);
    tools_->addWidget(where_);
    add_tool(QStringLiteral("−"), tr("Smaller (−, Ctrl and wheel)"), [this] { zoom_by(1 / zoom_step); });
    add_tool(QStringLiteral("+"), tr("Larger (+, Ctrl and wheel)"), [this] { zoom_by(zoom_step); });
    add_tool(tr("Width"), tr("As wide as there is room (0)"), [this] { fit_width(); });
    add_tool(tr("Save the PDF …"), tr("A copy of these pages"), [this] { emit save_pdf_wanted(); });
    add_tool(tr("Save the &bag …"), tr("A folder with pages, records and pictures and their checksums (BagIt)"),
             [this] { emit save_bag_wanted(); });
    add_tool(tr("Print …"), tr("These pages on paper"), [this] { emit print_wanted(); });
    add_tool(tr("To the pi&cture"), tr("Back to the easel (Esc); the pages stay"), [this] { emit closed(); });
    column->addWidget(tools_);
    view_->setDocument(document_);
    view_->setPageMode(QPdfView::PageMode::MultiPage);
    view_->setZoomMode(QPdfView::ZoomMode::FitToWidth);
    view_->setPageSpacing(page_gap_px);
    view_->setAccessibleName(tr("Pages of the dossier"));
    QPalette around = view_->palette();
    around.setColor(QPalette::Dark, picture_surround);
    view_->setPalette(around);
    view_->installEventFilter(this);
    view_->viewport()->installEventFilter(this);
    column->addWidget(view_, 1);
    connect(view_->pageNavigator(), &QPdfPageNavigator::currentPageChanged, this, &DossierPages::show_where);
    connect(document_, &QPdfDocument::pageCountChanged, this, &DossierPages::show_where);
}

void DossierPages::add_tool(const QString& text, const QString& tip, std::function<void()> act) {
    QAction* made = tools_->addAction(text);
    made->setToolTip(tip);
    connect(made, &QAction::triggered, this, [act = std::move(act)] { act(); });
    tools_->widgetForAction(made)->setFocusPolicy(Qt::TabFocus);
}

void DossierPages::show_pdf(const QString& file) {
    document_->load(file);
    view_->verticalScrollBar()->setValue(0);
    show_where();
}

void DossierPages::close_pdf() {
    document_->close();
}

int DossierPages::page_count() const {
    return document_->pageCount();
}

QString DossierPages::where() const {
    return where_->text();
}

void DossierPages::show_where() {
    where_->setText(tr("Page %1 of %2").arg(view_->pageNavigator()->currentPage() + 1).arg(document_->pageCount()));
}

void DossierPages::show_page(int page) {
    view_->pageNavigator()->jump(std::clamp(page, 0, page_count() - 1), {}, view_->pageNavigator()->currentZoom());
}

// Of the natural size, also while the width decides it.
double DossierPages::zoom() const {
    if (view_->zoomMode() == QPdfView::ZoomMode::Custom || page_count() == 0) return view_->zoomFactor();
    const QMargins around = view_->documentMargins();
    const double room = view_->viewport()->width() - around.left() - around.right();
    return room / (document_->pagePointSize(0).width() / points_per_inch * view_->logicalDpiX());
}

void DossierPages::zoom_by(double factor) {
    const double wanted = std::clamp(zoom() * factor, least_zoom, most_zoom);
    const QScrollBar* bar = view_->verticalScrollBar();
    const double share = bar->maximum() > 0 ? static_cast<double>(bar->value()) / bar->maximum() : 0.0;
    view_->setZoomMode(QPdfView::ZoomMode::Custom);
    view_->setZoomFactor(wanted);
    view_->verticalScrollBar()->setValue(static_cast<int>(std::lround(share * view_->verticalScrollBar()->maximum())));
}

void DossierPages::fit_width() {
    view_->setZoomMode(QPdfView::ZoomMode::FitToWidth);
}

void DossierPages::keyPressEvent(QKeyEvent* event) {
    switch (event->key()) {
        case Qt::Key_Plus:
        case Qt::Key_Equal:
            return zoom_by(zoom_step);
        case Qt::Key_Minus:
            return zoom_by(1 / zoom_step);
        case Qt::Key_0:
            return fit_width();
        case Qt::Key_Home:
            return view_->verticalScrollBar()->setValue(0);
        case Qt::Key_End:
            return view_->verticalScrollBar()->setValue(view_->verticalScrollBar()->maximum());
        case Qt::Key_Escape:
            emit closed();
            return;
        default:
            QWidget::keyPressEvent(event);
    }
}

// Keys the view has no use for come here by themselves; the wheel with Ctrl is taken before it scrolls.
bool DossierPages::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() == QEvent::Wheel) {
        const auto* wheel = static_cast<QWheelEvent*>(event);
        if (!wheel->modifiers().testFlag(Qt::ControlModifier)) return false;
        zoom_by(std::pow(1.0015, wheel->angleDelta().y()));
        return true;
    }
    if (watched == view_ && event->type() == QEvent::KeyPress) {
        const auto* key = static_cast<QKeyEvent*>(event);
        if (key->key() == Qt::Key_Home || key->key() == Qt::Key_End) {
            keyPressEvent(static_cast<QKeyEvent*>(event));
            return true;
        }
    }
    return false;
}

}  // namespace tedge::desk
