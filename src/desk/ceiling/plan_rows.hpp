// Rows of a plan that may be added and taken away: what the picture may prove to be, and how it may be under the dirt.
#pragma once

#include <QWidget>
#include <nlohmann/json_fwd.hpp>
#include <vector>

class QGridLayout;
class QLabel;
class QLineEdit;
class QPushButton;
class QVBoxLayout;

namespace tedge::desk {

enum class PlanValue { words, share, shares, estimate };

struct PlanColumn {
    const char* field;  // of the plan: "price"
    QString label;
    QString hint;  // shown where nothing is typed
    PlanValue value;
    bool is_first_line = false;  // beside the name; the others stand below
};

class PlanRows : public QWidget {
    Q_OBJECT

public:
    // One column is "probability": the one row that leaves it empty takes what is left.
    PlanRows(std::vector<PlanColumn> columns, const QString& one_more, QWidget* parent = nullptr);

    // An array of objects; anything else is no rows.
    void show_rows(const nlohmann::json& rows);
    // Those of which something is said beside the name. Fields left empty are left out.
    [[nodiscard]] nlohmann::json rows() const;
    void add_row(const nlohmann::json& row);
    [[nodiscard]] std::size_t count() const { return made_.size(); }

signals:
    void edited();

private:
    struct Row {
        QWidget* widget;
        std::vector<QLineEdit*> lines;
        QPushButton* away;
    };
    QLineEdit* add_line(const PlanColumn& column, const nlohmann::json& row, QWidget* parent);
    void name_lines(Row& row, std::size_t number) const;
    void take_away(QWidget* row);
    void tell_what_is_left();
    void changed();
    [[nodiscard]] std::size_t column_of(std::string_view field) const;

    std::vector<PlanColumn> columns_;
    std::vector<Row> made_;
    QVBoxLayout* column_;
    QPushButton* more_;
    bool is_filling_ = false;
};

}  // namespace tedge::desk
