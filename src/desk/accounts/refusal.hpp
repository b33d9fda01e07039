// Why figures over all pictures cannot be shown, with the picture that stands in the way one click away.
#pragma once

#include <QWidget>
#include <optional>

#include "tedge/base/error.hpp"
#include "tedge/base/uuid.hpp"

class QLabel;
class QPushButton;

namespace tedge::desk {

class Refusal : public QWidget {
    Q_OBJECT

public:
    explicit Refusal(QWidget* parent = nullptr);
    void show_error(const Error& error);

signals:
    void case_wanted(const tedge::Uuid& case_id);

private:
    QLabel* said_;
    QPushButton* open_;
    std::optional<Uuid> case_{};
};

}  // namespace tedge::desk
