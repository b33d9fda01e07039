// Random cases in which every field of every kind holds a mark of its own.
#pragma once

#include <random>

#include "sample_case.hpp"
#include "tedge/casebook/field_table.hpp"

namespace tedge::test {

// What a reader may not have, in the forms in which it would be printed.
struct Marks {
    std::vector<std::string> allowed;
    std::vector<std::string> withheld;
};

class MarkedCase {
public:
    MarkedCase(unsigned seed, casebook::Reader reader) : reader_(reader), random_(seed) {
        const Uuid frame = made_.add("face_frame", body_of("face_frame"));
        const Uuid person = made_.add("person", body_of("person"));
        frame_ = to_text(frame);
        person_ = to_text(person);
        for (const casebook::Kind* kind : casebook::all_kinds()) {
            if (kind->name == "case") continue;
            const int count = std::uniform_int_distribution<int>(1, 3)(random_);
            for (int i = 0; i < count; ++i) made_.add(kind->name, body_of(kind->name, kind->name == "person"));
        }
        made_.picture(body_of("case"));
    }

    [[nodiscard]] const CaseSnapshot& snapshot() const { return made_.snapshot; }
    [[nodiscard]] const Marks& marks() const { return marks_; }

private:
    std::string fresh_mark(bool told) {
        std::string mark = "zq";
        for (int i = 0; i < 10; ++i)
            mark += static_cast<char>('a' + std::uniform_int_distribution<int>(0, 25)(random_));
        (told ? marks_.allowed : marks_.withheld).push_back(mark);
        return mark;
    }

    json amount(bool told) {
        const std::int64_t minor = std::uniform_int_distribution<std::int64_t>(1'000'000'000, 9'000'000'000)(random_);
        const Money money{minor, Currency::parse("GBP").value()};
        auto& list = told ? marks_.allowed : marks_.withheld;
        list.push_back(std::to_string(minor));
        list.push_back(to_decimal_text(money));
        list.push_back(to_display_text(money).substr(4));
        return {{"minor", minor}, {"currency", "GBP"}};
    }

    json value_of(const casebook::Field& field, bool told) {
        using casebook::FieldType;
        switch (field.type) {
            case FieldType::text:
            case FieldType::long_text:
                return "Text " + fresh_mark(told) + " more";
            case FieldType::number:
                return std::uniform_real_distribution<double>(1.0, 900.0)(random_);
            case FieldType::integer:
                return 700 + std::uniform_int_distribution<int>(0, 200)(random_);
            case FieldType::flag:
                return std::bernoulli_distribution(0.5)(random_);
            case FieldType::word:
                return random_word(field);
            case FieldType::money:
                return amount(told);
            case FieldType::money_estimate: {
                json likely = amount(told);
                return {{"low", likely["minor"]},
                        {"likely", likely["minor"]},
                        {"high", likely["minor"]},
                        {"currency", "GBP"}};
            }
            case FieldType::date:
                return "2026-02-11";
            case FieldType::edtf:
                return "1928";
            case FieldType::instant:
                return "2026-02-11T10:00:00.000Z";
            case FieldType::zone:
                return "Europe/London";
            case FieldType::record:
                return field.name == "face_frame" ? frame_ : person_;
            case FieldType::sha256:
                return std::string(64, 'b');
            case FieldType::region:
                return rectangle_json(20, 30, 50, 60);
            case FieldType::placement:
                return placement_json();
            case FieldType::values:
                return {{"question", {{"answer", "no"}, {"note", "Text " + fresh_mark(told)}}}};
        }
        return nullptr;
    }

    std::string random_word(const casebook::Field& field) {
        const auto words = casebook::words_of(field);
        return std::string(words[std::uniform_int_distribution<std::size_t>(0, words.size() - 1)(random_)]);
    }

    // unnamed: a record that nothing names does not leave, whatever its fields say.
    json body_of(std::string_view kind, bool unnamed = false) {
        json body = json::object();
        for (const casebook::Field& field : casebook::find_kind(kind)->fields)
            body[std::string(field.name)] = value_of(field, !unnamed && field.readers.contains(reader_));
        body["field_of_a_newer_program"] = "Text " + fresh_mark(false);
        return body;
    }

    casebook::Reader reader_;
    std::mt19937 random_;
    CaseBuilder made_;
    std::string frame_ = to_text(Uuid{});
    std::string person_ = to_text(Uuid{});
    Marks marks_;
};

}  // namespace tedge::test
