// Comparing photographs of a case: the questions above, the photographs, the means below, and what is kept of it.
#pragma once

#include <QWidget>
#include <optional>
#include <vector>

#include "book_session.hpp"
#include "compare/compare_canvas.hpp"
#include "compare/comparison.hpp"
#include "compare/keeping.hpp"

class QComboBox;
class QLabel;
class QPushButton;
class QSlider;
class QToolButton;

namespace tedge::desk {

class SmallPictures;

class CompareView : public QWidget {
    Q_OBJECT

public:
    CompareView(BookSession& session, SmallPictures& pictures, QWidget* parent = nullptr);

    // `chosen`: those picked in the strip, or the two on the easel. Opens on the first question that has an answer, or
    // on the chosen ones where there are two.
    void show_case(const casebook::CaseSnapshot& snapshot, Face face, const std::vector<Uuid>& chosen);
    // The case was written to: the same question again.
    void read_again(const casebook::CaseSnapshot& snapshot);
    void ask(std::size_t question);
    [[nodiscard]] CompareCanvas& canvas() { return *canvas_; }
    [[nodiscard]] const std::vector<Comparison>& questions() const { return comparisons_; }
    [[nodiscard]] std::optional<std::size_t> asked() const { return asked_; }
    [[nodiscard]] Keeping& keeping() { return *keeping_; }
    [[nodiscard]] QString said() const;

signals:
    void closed();
    // The two that are compared: their map of colour differences, on the easel.
    void difference_wanted(const tedge::Uuid& first, const tedge::Uuid& second);

protected:
    void keyPressEvent(QKeyEvent* event) override;

private:
    void make_questions();
    void make_means(QWidget* row);
    QSlider* add_slider(QWidget* row, int most, int value, const QString& name, std::function<void(int)> act);
    void use_means(Means means);
    void show_asked();
    void fill_others(const std::vector<ComparedPhotograph>& photographs);
    [[nodiscard]] std::vector<ComparedPhotograph> compared(const Comparison& comparison) const;
    void keep(bool in_case);
    void say(const QString& text, const char* role = "plain");

    BookSession& session_;
    SmallPictures& pictures_;
    std::optional<casebook::CaseSnapshot> snapshot_;
    Face face_ = Face::recto;
    std::vector<Uuid> chosen_;
    std::vector<Comparison> comparisons_;
    std::optional<std::size_t> asked_;
    QWidget* question_row_;
    QWidget* means_row_;
    std::vector<QPushButton*> question_buttons_;
    std::vector<QToolButton*> means_buttons_;
    QComboBox* others_ = nullptr;
    QSlider* angle_ = nullptr;
    QSlider* fade_ = nullptr;
    QSlider* rate_ = nullptr;
    QToolButton* difference_ = nullptr;
    CompareCanvas* canvas_;
    QLabel* pointer_;
    QLabel* note_;
    Keeping* keeping_;
};

}  // namespace tedge::desk
