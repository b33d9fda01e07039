// The two cards for the sale as they will be: the pocket card, which may be read over the shoulder, and both sides of
// the desk card, which may not; on a light or a dark ground; saved as PDF and PNG, and printed.
#pragma once

#include <QPixmap>
#include <array>
#include <memory>

#include "long_work.hpp"
#include "saleday/sale_dialog.hpp"
#include "tedge/usecases/bid_cards.hpp"

class QPrinter;

namespace tedge::desk {

class CardsDialog : public SaleDialog {
    Q_OBJECT

public:
    CardsDialog(BookSession& session, const casebook::CaseSnapshot& snapshot, QWidget* parent = nullptr);

    enum class Card { pocket, desk };
    void show_ground(dossier::CardGround ground);
    void save_into(const QString& folder, usecases::OldCards old_cards = usecases::OldCards::stay);
    void print_on(const std::shared_ptr<QPrinter>& printer, Card card);
    [[nodiscard]] bool is_busy() const { return work_.running(); }
    [[nodiscard]] bool has_cards() const { return !sides_[0].isNull(); }

signals:
    void drawn();
    void told();  // saved or printed, or why not

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    void build();
    void add_acts();
    void draw();
    void show_drawn(const Expected<std::vector<std::string>>& pngs);
    void show_refusal(const Error& error);
    void fit_sides();
    void ask_for_folder();
    void ask_for_printer(Card card);

    casebook::CaseSnapshot snapshot_;
    dossier::CardGround ground_;
    QLabel* standing_;
    QWidget* previews_;
    std::array<QLabel*, 3> shown_{};  // pocket, desk, desk's back
    std::array<QLabel*, 3> named_{};
    std::array<QPixmap, 3> sides_{};
    QPushButton* light_;
    QPushButton* dark_;
    std::vector<QPushButton*> needs_cards_;
    QPushButton* replace_ = nullptr;  // the older cards that lie in the folder chosen
    QString folder_;
    LongWork work_;
};

}  // namespace tedge::desk
