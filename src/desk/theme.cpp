#include "theme.hpp"

#include <QApplication>
#include <QLabel>
#include <QPalette>
#include <QProxyStyle>
#include <QStyle>
#include <QStyleFactory>

// Pictures in a static library are there once somebody asks for them; the macro wants to stand outside of namespaces.
static void have_pictures() {
    Q_INIT_RESOURCE(desk);
}

namespace tedge::desk {

namespace {

const Theme* in_use = nullptr;

// The way to the tools that have no room is as wide as a finger asks, not as narrow as an arrow.
class DeskStyle : public QProxyStyle {
public:
    using QProxyStyle::QProxyStyle;
    int pixelMetric(PixelMetric metric, const QStyleOption* option, const QWidget* widget) const override {
        constexpr int extension_px = 30;
        return metric == PM_ToolBarExtensionExtent ? extension_px : QProxyStyle::pixelMetric(metric, option, widget);
    }
};

QPalette palette_of(const Theme& t) {
    QPalette palette;
    palette.setColor(QPalette::Window, t.paper);
    palette.setColor(QPalette::WindowText, t.ink);
    palette.setColor(QPalette::Base, t.sheet);
    palette.setColor(QPalette::AlternateBase, t.paper);
    palette.setColor(QPalette::Text, t.ink);
    palette.setColor(QPalette::PlaceholderText, t.faded_ink);
    palette.setColor(QPalette::Button, t.sheet);
    palette.setColor(QPalette::ButtonText, t.ink);
    palette.setColor(QPalette::ToolTipBase, t.sheet);
    palette.setColor(QPalette::ToolTipText, t.ink);
    palette.setColor(QPalette::Highlight, t.done);
    palette.setColor(QPalette::HighlightedText, t.on_done);
    palette.setColor(QPalette::Link, t.done);
    palette.setColor(QPalette::Mid, t.rule);
    palette.setColor(QPalette::Disabled, QPalette::Text, t.faded_ink);
    palette.setColor(QPalette::Disabled, QPalette::ButtonText, t.faded_ink);
    palette.setColor(QPalette::Disabled, QPalette::WindowText, t.faded_ink);
    return palette;
}

QString style_sheet(const Theme& t) {
    return QStringLiteral(
               "QPushButton { background: %1; color: %2; border: 1px solid %9; border-radius: 4px; padding: 7px 14px; }"
               "QPushButton:focus, QLineEdit:focus, QPlainTextEdit:focus, QComboBox:focus, QListView:focus"
               " { border: 2px solid %4; }"
               "QToolBar { border: none; spacing: 2px; padding: 0px; }"
               "QToolButton { background: %1; color: %2; border: 1px solid %9; border-radius: 4px; padding: 5px 7px; }"
               "QToolButton#qt_toolbar_ext_button { padding: 0px; qproperty-icon: "
               "url(:/desk/more-%10.png); }"
               "QToolButton:focus, QTableView:focus, QPdfView:focus { border: 2px solid %4; }"
               "QToolButton:checked { background: %4; color: %5; } QToolButton:disabled { color: %6; }"
               "QToolButton:hover { border-color: %4; } QToolButton::menu-indicator { image: none; }"
               "QPushButton:disabled { color: %6; }"
               "QPushButton[act='main'] { background: %4; color: %5; border-color: %4; font-weight: 600; }"
               "QPushButton[act='main']:disabled { background: %1; color: %6; border-color: %9; }"
               "QPushButton[act='main']:focus { border: 2px solid %2; }"
               "QPushButton[act='warning'] { color: %7; border-color: %7; }"
               "QPushButton[act='offer'] { border: 2px dashed %9; color: %6; padding: 4px 10px; }"
               "QPushButton:checked { background: %4; color: %5; }"
               "QLineEdit, QPlainTextEdit, QComboBox, QListView { background: %1; border: 1px solid %9; "
               "border-radius: 4px; padding: 5px; }"
               "QComboBox::drop-down { border: none; width: 24px; }"
               "QComboBox::down-arrow { image: url(:/desk/down-arrow-%10.png); width: 12px; height: 8px; }"
               "QLabel[role='faded'] { color: %6; } QLabel[role='warning'] { color: %7; } QLabel[role='closed'] { "
               "color: %8; }"
               "QLabel[role='done'] { color: %4; } QLabel[role='strong'] { font-weight: 600; }"
               "QRadioButton { spacing: 8px; } QRadioButton::indicator, QCheckBox::indicator, "
               "QAbstractItemView::indicator"
               " { width: 14px; height: 14px; border: 2px solid %9; background: %1; }"
               "QRadioButton::indicator { border-radius: 9px; } QCheckBox::indicator, QAbstractItemView::indicator"
               " { border-radius: 3px; }"
               "QRadioButton::indicator:focus, QCheckBox::indicator:focus { border-color: %4; }"
               "QRadioButton:focus { color: %4; }"
               "QRadioButton::indicator:checked { border-color: %4; background: qradialgradient(cx: 0.5, cy: 0.5, "
               "radius: "
               "0.5, fx: 0.5, fy: 0.5, stop: 0 %4, stop: 0.55 %4, stop: 0.65 %1, stop: 1 %1); }"
               "QCheckBox::indicator:checked, QAbstractItemView::indicator:checked { border-color: %4; background: %4; "
               "image: url(:/desk/tick-%10.png); }"
               "QProgressBar { background: %1; color: %2; border: 1px solid %9; border-radius: 4px; text-align: "
               "center; }"
               "QProgressBar::chunk { background: %4; }"
               "QScrollBar { background: transparent; border: none; } QScrollBar:vertical { width: 12px; } "
               "QScrollBar:horizontal { height: 12px; }"
               "QScrollBar::handle { background: %9; border-radius: 3px; margin: 2px; } "
               "QScrollBar::handle:vertical { min-height: 28px; } QScrollBar::handle:horizontal { min-width: 28px; }"
               "QScrollBar::handle:hover { background: %4; }"
               "QScrollBar::add-line, QScrollBar::sub-line { width: 0px; height: 0px; } "
               "QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }"
               "QHeaderView::section { background: %1; color: %2; border: none; border-bottom: 1px solid %3; padding: "
               "4px; }"
               "QScrollArea { border: none; } QSplitter::handle { background: %9; }"
               "QSplitter::handle:horizontal { width: 3px; } QSplitter::handle:vertical { height: 3px; }")
        .arg(t.sheet.name(), t.ink.name(), t.rule.name(), t.done.name(), t.on_done.name(), t.faded_ink.name(),
             t.warning.name(), t.closed.name(), t.edge.name())
        .arg(t.shade);
}

}  // namespace

const Theme& light_theme() {
    static const Theme light{QColor("#F5F3EF"), QColor("#FFFFFF"), QColor("#23262B"),      QColor("#5E6268"),
                             QColor("#D8D4CC"), QColor("#85817A"), QColor("#2B7665"),      QColor("#FFFFFF"),
                             QColor("#8A5A0F"), QColor("#9B2C3B"), QStringLiteral("light")};
    return light;
}

const Theme& dark_theme() {
    static const Theme dark{QColor("#23262B"), QColor("#2D3137"), QColor("#F0EDE7"),     QColor("#B3B0AA"),
                            QColor("#464B53"), QColor("#8A8F97"), QColor("#6CBFAA"),     QColor("#16201D"),
                            QColor("#E0AE55"), QColor("#EE8E9B"), QStringLiteral("dark")};
    return dark;
}

const Theme& theme() {
    return in_use != nullptr ? *in_use : light_theme();
}

QFont text_font() {
    QFont font(QStringLiteral("Open Sans"));
    font.setPointSizeF(11);
    return font;
}

QFont heading_font() {
    QFont font = text_font();
    font.setPointSizeF(15);
    font.setWeight(QFont::DemiBold);
    return font;
}

void say_in(QLabel& label, const QString& text, const char* role) {
    label.setText(text);
    label.setProperty("role", role);
    label.style()->unpolish(&label);
    label.style()->polish(&label);
}

void use_theme(QApplication& application, Shade shade) {
    have_pictures();
    in_use = shade == Shade::dark ? &dark_theme() : &light_theme();
    application.setStyle(new DeskStyle(QStyleFactory::create(QStringLiteral("Fusion"))));
    application.setPalette(palette_of(*in_use));
    application.setFont(text_font());
    application.setStyleSheet(style_sheet(*in_use));
}

}  // namespace tedge::desk
