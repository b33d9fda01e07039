// One of a list that is too long for buttons: words, photographs, faces; or a name, known or new.
#pragma once

#include "forms/entries/word_entry.hpp"

class QComboBox;

namespace tedge::desk {

class ListEntry : public Entry {
    Q_OBJECT

public:
    ListEntry(const QList<Word>& choices, QWidget* parent);
    [[nodiscard]] QString typed() const override;
    void set_typed(const QString& text) override;
    [[nodiscard]] QWidget* focused() const override;
    void set_name(const QString& name) override;

protected:
    explicit ListEntry(QWidget* parent);  // with nothing to choose yet
    [[nodiscard]] QComboBox& list() const { return *list_; }
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    QComboBox* list_;
};

// Names of people: typed, or taken from those that the casebook knows.
class NameEntry : public ListEntry {
    Q_OBJECT

public:
    NameEntry(const QStringList& known, QWidget* parent);
    [[nodiscard]] QString typed() const override;
    void set_typed(const QString& text) override;
    void set_name(const QString& name) override;
};

// A list that the wheel does not turn while the sheet is scrolled under it.
[[nodiscard]] QComboBox* calm_list(QObject* filter, QWidget* parent);
[[nodiscard]] bool is_idle_wheel(const QObject* watched, const QEvent* event);

}  // namespace tedge::desk
