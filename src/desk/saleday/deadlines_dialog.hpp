// What falls due and which sales are to come, of this picture or of all: the next first, what is past marked, what is
// done last; counted from the terms, and written out for other calendars.
#pragma once

#include "saleday/sale_dialog.hpp"
#include "tedge/usecases/deadlines.hpp"

class QCheckBox;
class QSpinBox;

namespace tedge::desk {

class DeadlinesDialog : public SaleDialog {
    Q_OBJECT

public:
    // Without a case those of all.
    DeadlinesDialog(BookSession& session, const std::optional<Uuid>& case_id, QWidget* parent = nullptr);

    [[nodiscard]] QTableWidget& table() { return *table_; }
    void show_all(bool are_all);
    void export_to(const QString& file);

public slots:
    void count();      // from the terms of the lot
    void mark_done();  // the chosen one, today

signals:
    void record_wanted(const tedge::Uuid& case_id, const tedge::Uuid& record);

private:
    void add_acts();
    void read_again();
    void show_row(int row, const usecases::StandingDeadline& due);
    [[nodiscard]] const usecases::StandingDeadline* chosen() const;
    [[nodiscard]] std::optional<Uuid> wanted_case() const;
    void show_what_can_be_done();
    void open_chosen();
    void ask_for_file();

    std::optional<Uuid> case_id_;
    std::vector<usecases::StandingDeadline> due_;
    QLabel* next_;
    QCheckBox* all_;
    QTableWidget* table_;
    QLabel* basis_;
    QSpinBox* remind_;
    QPushButton* count_ = nullptr;
    QPushButton* done_ = nullptr;
    QPushButton* open_ = nullptr;
    QPushButton* export_ = nullptr;
};

}  // namespace tedge::desk
