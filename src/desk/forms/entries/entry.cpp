// Which entry fits which field.
#include <algorithm>

#include "forms/at_hand.hpp"
#include "forms/entries/amount_entry.hpp"
#include "forms/entries/answer_entry.hpp"
#include "forms/entries/file_entry.hpp"
#include "forms/entries/line_entry.hpp"
#include "forms/entries/list_entry.hpp"
#include "forms/entries/word_entry.hpp"
#include "text.hpp"

namespace tedge::desk {

using casebook::Field;
using casebook::FieldType;

namespace {

// Fewer can be seen at a glance and tapped; more are a list.
constexpr std::size_t most_buttons = 7;
constexpr int tenths = 10;

QList<Word> choices_of(const Field& field) {
    QList<Word> words;
    for (const std::string_view word : words_of(field)) words.append({shown(word), spoken(word)});
    return words;
}

Entry* word_entry(const Field& field, QWidget* parent) {
    const QList<Word> words = choices_of(field);
    if (static_cast<std::size_t>(words.size()) <= most_buttons) return new WordEntry(words, parent);
    return new ListEntry(words, parent);
}

Entry* tenths_entry(QWidget* parent) {
    QList<Word> words;
    for (int i = 0; i <= tenths; ++i) words.append({QString::number(i), QString::number(i)});
    return new WordEntry(words, parent);
}

Entry* record_entry(const Field& field, const FormContext& context, QWidget* parent) {
    if (field.of == "person") {
        QStringList names;
        for (const casebook::Record& person : context.snapshot.people) {
            const QString name = shown(person.body.text_or("name"));
            if (!name.isEmpty()) names << name;
        }
        names.sort();
        return new NameEntry(names, parent);
    }
    QList<Word> choices;
    for (const std::string_view kind : casebook::kinds_it_names(field))
        for (const casebook::Record* record : context.snapshot.of_kind(kind))
            choices.append({shown(to_text(record->id)), choice_text(*record)});
    return new ListEntry(choices, parent);
}

}  // namespace

Entry* make_entry(const Field& field, const FormContext& context, QWidget* parent) {
    switch (field.type) {
        case FieldType::word:
            return word_entry(field, parent);
        case FieldType::flag:
            return new WordEntry(
                {{QStringLiteral("yes"), QObject::tr("yes")}, {QStringLiteral("no"), QObject::tr("no")}}, parent);
        case FieldType::long_text:
            return new ParagraphEntry(parent);
        case FieldType::money:
        case FieldType::money_estimate:
            return new AmountEntry(field.type == FieldType::money_estimate, context.currency, parent);
        case FieldType::record:
            return record_entry(field, context, parent);
        case FieldType::values:
            if (field.unit == "bands") return new LineEntry(example_of(field), parent);
            return new AnswerEntry(choices_of(field), parent);
        case FieldType::sha256:
            return new FileEntry(context.original_path, parent);
        case FieldType::integer:
            if (field.unit == "of 10") return tenths_entry(parent);
            return new LineEntry({}, parent);
        default:
            return new LineEntry(example_of(field), parent);
    }
}

}  // namespace tedge::desk
