// A case made of plain values, held against the field tables, without any book.
#pragma once

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "fixed_sources.hpp"
#include "tedge/casebook/gates.hpp"
#include "validation.hpp"

namespace tedge::casebook {

struct PaperCase {
    CaseSnapshot snapshot;
    CountingIds ids;
    Instant written = parse_instant("2026-03-03T09:00:00Z").value();
    Uuid author;
    Uuid recto;
    Uuid verso;

    PaperCase() {
        snapshot.picture = make("case", FieldValues().text("title", "River landscape with a ferry"));
        author = person("Ute Hain");
        recto = frame("recto");
        verso = frame("verso");
    }

    Record make(std::string_view kind, const FieldValues& values) {
        const auto checked = check_values(*find_kind(kind), values);
        INFO((checked ? "" : checked.error().message));
        REQUIRE(checked.has_value());
        Record record;
        record.id = ids.next();
        record.case_id = snapshot.picture.id;
        record.kind = kind;
        record.body = Body(values.set_values());
        record.first_written = record.last_written = written;
        return record;
    }

    Uuid add(std::string_view kind, const FieldValues& values) {
        snapshot.records.push_back(make(kind, values));
        return snapshot.records.back().id;
    }

    Uuid person(std::string_view name) {
        snapshot.people.push_back(make("person", FieldValues().text("name", name)));
        return snapshot.people.back().id;
    }

    Uuid frame(std::string_view face, std::string_view epoch_from = "2026-03-01") {
        return add("face_frame", FieldValues()
                                     .text("face", face)
                                     .number("width_mm", 800)
                                     .number("height_mm", 600)
                                     .text("epoch_from", epoch_from));
    }

    Uuid photograph(std::string_view face, std::string_view light, std::string_view stage, bool with_scale = true) {
        return add("photograph", FieldValues()
                                     .text("face", face)
                                     .text("light", light)
                                     .text("stage", stage)
                                     .text("sha256", std::string(64, 'a'))
                                     .flag("has_scale", with_scale));
    }

    Uuid survey(std::string_view face, const FieldValues& answers = {}, std::string_view on = "2026-03-02") {
        FieldValues values = answers;
        return add("survey", values.text("face", face).text("surveyed_on", on));
    }

    Uuid finding(const Uuid& face_frame, const Region& region, std::string_view term, bool unstable,
                 std::string_view layer = "paint") {
        return add("finding", FieldValues()
                                  .record("face_frame", face_frame)
                                  .region("region", region)
                                  .text("layer", layer)
                                  .text("term", term)
                                  .flag("unstable", unstable));
    }

    // `act` nil: for the whole picture.
    Uuid override_gate(int gate, std::string_view requirement, const Act& act, bool whole_picture,
                       std::string_view reason = "no lamp here") {
        FieldValues values = FieldValues()
                                 .integer("gate", gate)
                                 .text("requirement", requirement)
                                 .record("by", author)
                                 .text("reason", reason)
                                 .text("on", "2026-03-04")
                                 .flag("whole_picture", whole_picture);
        if (!act.record.is_nil()) values.record("act", act.record).text("act_as", what_and_where(act.fields));
        return add("gate_override", values);
    }

    void patch(const Uuid& id, std::string_view field, const nlohmann::json& value) {
        for (Record& record : snapshot.records) {
            if (record.id != id) continue;
            nlohmann::json body = record.body.as_json();
            body[std::string(field)] = value;
            record.body = Body(body);
        }
    }
    void patch_picture(std::string_view field, const nlohmann::json& value) {
        nlohmann::json body = snapshot.picture.body.as_json();
        body[std::string(field)] = value;
        snapshot.picture.body = Body(body);
    }

    Act act(std::string_view kind, const FieldValues& values) {
        Act act;
        act.kind = kind;
        act.fields = make(kind, values).body;
        act.record = ids.next();
        return act;
    }
};

inline Region rectangle(double x, double y, double width, double height) {
    return Region::rectangle({x, y}, {width, height}).value();
}

// Codes of what is missing and not answered by an override; only those that close, or only those that warn.
inline std::vector<std::string> missing(const GateAnswer& answer, bool closes) {
    std::vector<std::string> codes;
    for (const Requirement& requirement : answer.missing) {
        if (requirement.closes != closes || requirement.overridden_by) continue;
        CHECK_FALSE(requirement.message.empty());
        CHECK_FALSE(requirement.opened_by.empty());
        CHECK_FALSE(requirement.sheet.empty());
        codes.push_back(requirement.code);
    }
    return codes;
}

using Codes = std::vector<std::string>;

}  // namespace tedge::casebook
