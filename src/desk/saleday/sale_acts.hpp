// What can be done around a sale, each in a window of its own, from the head of the case, its sheets and the rack.
#pragma once

#include <QObject>
#include <optional>

#include "book_session.hpp"

class QMenu;
class QWidget;

namespace tedge::desk {

enum class SaleAct { cards, terms, result, invoice, deadlines, all_deadlines, price_book };

class SaleActs : public QObject {
    Q_OBJECT

public:
    SaleActs(BookSession& session, QWidget* window);

    void show_case(const casebook::CaseSnapshot& snapshot) { snapshot_ = snapshot; }
    // Of the case on the desk; which of them make sense now is seen as the menu opens.
    [[nodiscard]] QMenu* make_menu(QWidget* parent);
    [[nodiscard]] bool can(SaleAct act) const;

public slots:
    void begin(tedge::desk::SaleAct act);

signals:
    void record_wanted(const tedge::Uuid& case_id, const tedge::Uuid& record, const QString& why);

private:
    void record_result();
    void show_deadlines(const std::optional<Uuid>& case_id);

    BookSession& session_;
    QWidget* window_;
    std::optional<casebook::CaseSnapshot> snapshot_;
};

[[nodiscard]] QString sale_act_text(SaleAct act, const casebook::CaseSnapshot& snapshot);

}  // namespace tedge::desk
