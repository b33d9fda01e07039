// The head of a case: what picture it is, where it is, and the row of tacks that leads to its sheets.
#pragma once

#include <QWidget>

#include "book_session.hpp"
#include "tacks.hpp"

class QLabel;
class QMenu;
class QPushButton;

namespace tedge::desk {

class CaseHead : public QWidget {
    Q_OBJECT

public:
    explicit CaseHead(BookSession& session, QWidget* parent = nullptr);
    void show_case(const casebook::CaseSnapshot& snapshot);
    [[nodiscard]] TackRow& tacks() { return *tacks_; }
    void show_rack_state(bool is_shown);
    [[nodiscard]] QPushButton& contested() { return *contested_; }
    void set_sale_menu(QMenu* menu);
    void open_sale_menu();

signals:
    void settling_wanted();
    void rack_wanted(bool is_wanted);
    void facts_wanted();  // title, artist, size: to be read or put right

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    void fit_words();
    void show_contested(const Uuid& case_id);
    BookSession& session_;
    QPushButton* rack_;
    QString title_text_;
    QStringList facts_parts_;
    QStringList whereabouts_parts_;
    QLabel* title_;
    QLabel* made_;  // by whom, how large
    QLabel* whereabouts_;
    QPushButton* contested_;
    QPushButton* sale_;
    QPushButton* facts_;
    QPushButton* client_;
    TackRow* tacks_;
};

}  // namespace tedge::desk
