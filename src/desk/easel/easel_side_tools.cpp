// The tools above the easel, and how those are reached for which there is no room.
#include <QComboBox>
#include <QMenu>
#include <QToolBar>
#include <QToolButton>

#include "easel/easel_side.hpp"
#include "text.hpp"

namespace tedge::desk {

void EaselSide::make_tools() {
    tools_->setToolButtonStyle(Qt::ToolButtonTextOnly);
    for (const Face face : all_faces) faces_->addItem(spoken(to_text(face)));
    faces_->setAccessibleName(tr("Face of the picture"));
    faces_->setToolTip(tr("The face on the easel"));
    tools_->addWidget(faces_);
    // The first are in sight on the narrowest easel; the last ones have a key or stand in a menu as well.
    turn_ = add_tool(tr("Turn over"), tr("To the back and to the front again (V)"), [this] { turn_over(); });
    half_ = add_tool(tr("Half and half"), tr("With the photograph set beside (H; T held turns over)"),
                     [this] { half_and_half(); });
    half_->setCheckable(true);
    add_tool(tr("Compare"), tr("Two to four photographs: what changed, is this crack new, what lies behind (C)"),
             [this] { compare(); });
    add_tool(tr("Difference"), tr("How much the colour changed between the two on the easel, ΔE00 (D)"),
             [this] { colour_difference(); });
    places_ = add_tool(tr("Places"), tr("Outlines and numbers of what is recorded, shown or hidden (P)"),
                       [this] { show_places(places_->isChecked()); });
    places_->setCheckable(true);
    places_->setChecked(true);
    framing_ =
        add_tool(tr("Framing"), tr("The photograph of the set before, same face and light, faintly over this one (F)"),
                 [this] { framing(); });
    framing_->setCheckable(true);
    laying_menu_ = add_menu_tool(tr("Lay over"), tr("Lay photographs over one that is placed"));
    photograph_menu_ = add_menu_tool(tr("T&his photograph"), tr("What it shows, whether it comes first, its record"));
    place_action_ = add_tool(tr("Place by corners"),
                             tr("Pick the four corners of this face in the photograph, from the top left clockwise"),
                             [this] { begin_placing(false); });
    add_tool(tr("Whole"), tr("The whole picture (0)"), [this] { easel_->fit(); });
    make_rest_reachable();
}

// On the narrowest easel two of them are called by one word, so that Difference has room beside Compare.
void EaselSide::name_tools(bool is_narrow) {
    turn_->setText(is_narrow ? tr("Turn") : tr("Turn over"));
    half_->setText(is_narrow ? tr("Half") : tr("Half and half"));
}

// What has no room waits behind a button, which takes the focus like the others: Space opens it.
void EaselSide::make_rest_reachable() {
    auto* rest = tools_->findChild<QToolButton*>(QStringLiteral("qt_toolbar_ext_button"));
    if (rest == nullptr) return;
    rest->setFocusPolicy(Qt::TabFocus);
    rest->setAccessibleName(tr("More tools"));
    rest->setToolTip(tr("More tools"));
    setTabOrder(tools_->widgetForAction(tools_->actions().constLast()), rest);
}

QAction* EaselSide::add_tool(const QString& text, const QString& tip, std::function<void()> act) {
    QAction* made = tools_->addAction(text);
    made->setToolTip(tip);
    connect(made, &QAction::triggered, this, [act = std::move(act)] { act(); });
    tools_->widgetForAction(made)->setFocusPolicy(Qt::TabFocus);
    return made;
}

QMenu* EaselSide::add_menu_tool(const QString& text, const QString& tip) {
    auto* menu = new QMenu(text, this);
    QAction* made = tools_->addAction(text);
    made->setToolTip(tip);
    made->setMenu(menu);
    auto* button = qobject_cast<QToolButton*>(tools_->widgetForAction(made));
    button->setPopupMode(QToolButton::InstantPopup);
    button->setFocusPolicy(Qt::TabFocus);
    return menu;
}

}  // namespace tedge::desk
