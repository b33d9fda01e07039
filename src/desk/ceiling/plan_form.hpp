// The fields of a bidding plan. What a case's records say (terms of the sale, costs) is not typed here again.
#pragma once

#include <QWidget>
#include <map>
#include <nlohmann/json.hpp>
#include <string>

#include "tedge/base/error.hpp"
#include "tedge/base/money.hpp"

class QComboBox;
class QFormLayout;
class QLabel;
class QLineEdit;
class QVBoxLayout;

namespace tedge::desk {

class PlanRows;

class PlanForm : public QWidget {
    Q_OBJECT

public:
    explicit PlanForm(QWidget* parent = nullptr);

    // `plan` as draft_plan() gives it; `terms` are those recorded with the lot, which hide the two lines for them.
    void show_plan(const nlohmann::json& plan);
    void show_terms(const nlohmann::json& terms);
    void show_currency(const QString& code);
    // After the purchase the question is what it brings as it stands; the sale's terms are settled.
    void show_bought(bool is_bought);

    [[nodiscard]] Expected<Currency> currency() const;
    // `plan` with what is typed in place of what it said.
    [[nodiscard]] nlohmann::json written_into(nlohmann::json plan) const;
    // Somebody has begun: a price, a chance or a target is said.
    [[nodiscard]] bool says_prices() const;

signals:
    void edited();

protected:
    void resizeEvent(QResizeEvent* event) override;
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    QFormLayout* add_group(QVBoxLayout* column, const QString& title, bool is_folded);
    void add_line(QFormLayout* form, const char* name, const QString& label, const QString& value,
                  const QString& hint = {});
    void fill(const nlohmann::json& plan);
    [[nodiscard]] QString typed(const char* name) const;
    void write_sale(nlohmann::json& plan) const;
    void write_wanted(nlohmann::json& plan) const;
    void write_selling(nlohmann::json& plan) const;
    void tell();

    std::map<std::string, QLineEdit*> lines_;
    std::vector<QFormLayout*> forms_;
    QFormLayout* sale_ = nullptr;
    QFormLayout* found_ = nullptr;
    QComboBox* currency_ = nullptr;
    QComboBox* selling_ = nullptr;
    QLabel* terms_ = nullptr;
    PlanRows* outcomes_ = nullptr;
    PlanRows* conditions_ = nullptr;
    bool is_filling_ = false;
};

}  // namespace tedge::desk
