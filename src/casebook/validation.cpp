#include "validation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "canonical_json.hpp"
#include "field_paths.hpp"
#include "kinds/kinds.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"
#include "tedge/geometry/face_frame.hpp"

namespace tedge::casebook {

namespace {

using nlohmann::json;

std::string with_article(std::string_view noun) {
    const bool vowel = !noun.empty() && std::string_view("aeiou").find(noun.front()) != std::string_view::npos;
    return fmt::format("{} {}", vowel ? "an" : "a", noun);
}

std::unexpected<Error> bad_field(const Kind& kind, std::string_view path, const std::string& reason) {
    return fail("casebook.bad-field", fmt::format("\"{}\" of {} {}.", path, with_article(kind.label), reason),
                "Correct that field and try again; nothing was changed.",
                {{"field", std::string(path)}, {"reason", reason}});
}

std::string wanted(bool fits, std::string_view what) {
    return fits ? "" : fmt::format("is to be {}", what);
}

// Nothing beyond: a double holds it exactly, and sums of it cannot overflow (base/money.hpp sets the same bound).
bool is_whole_number(const json& value) {
    constexpr std::int64_t largest = 9'000'000'000'000'000;
    if (value.is_number_unsigned()) return value.get<std::uint64_t>() <= static_cast<std::uint64_t>(largest);
    return value.is_number_integer() && value.get<std::int64_t>() <= largest && value.get<std::int64_t>() >= -largest;
}

std::string misfit_of_money(const json& value) {
    const bool shaped = value.is_object() && value.size() == 2 && value.contains("minor") &&
                        is_whole_number(value["minor"]) && value.contains("currency") && value["currency"].is_string();
    if (!shaped || !Currency::parse(value["currency"].get<std::string>()).has_value())
        return "is to be an amount with an ISO 4217 currency";
    // Which way money goes is a field of its own.
    return value["minor"].get<std::int64_t>() < 0 ? "is not to be below nought" : "";
}

std::string misfit_of_money_estimate(const json& value) {
    const auto whole = [&](const char* name) { return value.contains(name) && is_whole_number(value[name]); };
    const bool shaped = value.is_object() && whole("low") && whole("likely") && whole("high") &&
                        value.contains("currency") && value["currency"].is_string() &&
                        Currency::parse(value["currency"].get<std::string>()).has_value();
    if (!shaped) return "is to be low, likely and high amounts with an ISO 4217 currency";
    if (value["low"].get<std::int64_t>() < 0) return "is not to be below nought";
    return wanted(value["low"] <= value["likely"] && value["likely"] <= value["high"],
                  "in the order low, likely, high");
}

std::string misfit_of_placement(const json& value) {
    // Whatever is written into it must be what is read out of it again.
    const auto placement = Body(json{{"it", value}}).placement("it");
    if (!placement) return "is to be a placement with the nine numbers of a plane map";
    if (value.contains("registration") && !Body(value).record("registration"))
        return "is to be a placement that names its registration by a record";
    return wanted(value.contains("displacement") == placement->displacement.has_value(),
                  "a placement whose lattice has as many numbers as columns and rows say");
}

std::string misfit_of_text(const Field& field, const std::string& text) {
    if (!is_valid_utf8(text)) return "holds bytes that are not UTF-8 text";
    if (field.required && trimmed(text).empty()) return "cannot be left empty";
    switch (field.type) {
        case FieldType::word: {
            const auto words = words_of(field);
            return wanted(std::ranges::find(words, text) != words.end(),
                          fmt::format("one of {}", fmt::join(words, ", ")));
        }
        case FieldType::date: {
            const auto date = parse_date(text);
            return date ? "" : "is to be a day such as 2026-03-31";
        }
        case FieldType::instant: {
            const auto instant = parse_instant(text);
            return instant ? "" : "is to be a time in UTC such as 2026-03-31T14:30:00Z";
        }
        case FieldType::record: {
            const auto id = parse_uuid(text);
            return id ? "" : "is to be the id of a record";
        }
        case FieldType::sha256:
            return wanted(text.size() == 64 && from_hex(text).has_value(), "a SHA-256 digest");
        case FieldType::text:
        case FieldType::edtf:
        case FieldType::zone:
            return wanted(!has_controls(text), "one line without control characters");
        case FieldType::long_text:
            return wanted(!has_controls(text, "\n\r\t"), "text without control characters");
        default:
            return "";
    }
}

}  // namespace

std::string misfit(const Field& field, const json& value) {
    switch (field.type) {
        case FieldType::number:
            return wanted(value.is_number() && range_of(field).contains(value.get<double>()),
                          fmt::format("a number {}", to_text(range_of(field), field.unit)));
        case FieldType::integer:
            return wanted(is_whole_number(value) && range_of(field).contains(value.get<double>()),
                          fmt::format("a whole number {}", to_text(range_of(field), field.unit)));
        case FieldType::flag:
            return wanted(value.is_boolean(), "yes or no");
        case FieldType::money:
            return misfit_of_money(value);
        case FieldType::money_estimate:
            return misfit_of_money_estimate(value);
        case FieldType::region: {
            const auto region = Region::from_geojson(canonical(value));
            return region ? ""
                          : "is to be a place in millimetres: " + lowered_ascii(region.error().message.substr(0, 1)) +
                                region.error().message.substr(1);
        }
        case FieldType::placement:
            return misfit_of_placement(value);
        case FieldType::values:
            return wanted(value.is_object(), "a map of values");
        default:
            return value.is_string() ? misfit_of_text(field, value.get<std::string>()) : "is to be text";
    }
}

namespace {

// [{"up_to": 50000, "percent": 25}, {"percent": 20}]
std::string misfit_of_bands(const json& value) {
    const auto number_in = [](const json& band, const char* name, double most) {
        return band[name].is_number() && band[name].get<double>() >= 0.0 && band[name].get<double>() <= most;
    };
    const auto is_band = [&](const json& band) {
        return band.is_object() && band.contains("percent") && number_in(band, "percent", 100.0) &&
               (!band.contains("up_to") || number_in(band, "up_to", 1e12));
    };
    return wanted(value.is_array() && std::ranges::all_of(value, is_band),
                  "bands, each with a percentage from 0 to 100");
}

std::string misfit_of_answer(const Field& question, const json& value) {
    const auto words = words_of(question);
    const json answer = value.is_object() ? value.value("answer", json()) : json();
    const bool known = answer.is_string() && std::ranges::find(words, answer.get<std::string>()) != words.end();
    if (!known) return wanted(false, fmt::format("an answer: one of {}", fmt::join(words, ", ")));
    if (!value.contains("why")) return "";
    const auto reasons = split(kinds::not_seen_words, ' ');
    const bool fits = answer == "not-seen" && value["why"].is_string() &&
                      std::ranges::find(reasons, value["why"].get<std::string>()) != reasons.end();
    return wanted(fits, fmt::format("with a reason only where it was not seen: {}", fmt::join(reasons, ", ")));
}

// A part of a map that the program knows (field_table.hpp, parts_asked) fits like a field; others are anybody's own.
std::string misfit_of_part(const Kind& kind, std::string_view path, const json& value) {
    const auto parts = parts_asked(kind.name, top_field(path));
    const auto part = std::ranges::find(parts, path, &Field::name);
    if (part == parts.end()) return "";
    if (part->unit == "bands") return misfit_of_bands(value);
    return part->type == FieldType::values ? misfit_of_answer(*part, value) : misfit(*part, value);
}

std::string misfit_of_map(const Kind& kind, std::string_view field, const json& value) {
    for (const auto& [name, part] : value.items()) {
        const std::string fault = misfit_of_part(kind, fmt::format("{}/{}", field, name), part);
        if (!fault.empty()) return fmt::format("has \"{}\", which {}", name, fault);
    }
    return "";
}

}  // namespace

std::string misfit_at(const Kind& kind, std::string_view path, const json& value) {
    const Field* field = kind.field(top_field(path));
    if (field == nullptr) return "is not a field of that kind";
    const bool inside_map = top_field(path).size() != path.size();
    if (inside_map && field->type != FieldType::values) return "has no parts";
    if (inside_map && (!is_valid_utf8(path) || path.ends_with('/') || path.find("//") != std::string_view::npos)) {
        return "has a part without a name";
    }
    // As it will stand in a payload: what could not be read back is not written.
    if (value.is_structured() && !parse_json(canonical({{"set", {{path, value}}}}))) return "is nested too deeply";
    if (inside_map) return misfit_of_part(kind, path, value);
    const std::string fault = misfit(*field, value);
    return fault.empty() && field->type == FieldType::values ? misfit_of_map(kind, path, value) : fault;
}

Expected<void> check_values(const Kind& kind, const FieldValues& values) {
    for (const auto& [path, value] : values.set_values().items()) {
        const std::string reason = misfit_at(kind, path, value);
        if (!reason.empty()) return bad_field(kind, path, reason);
    }
    for (const std::string& path : values.unset_paths()) {
        const Field* field = kind.field(top_field(path));
        if (field == nullptr) return bad_field(kind, path, "is not a field of that kind");
        if (field->required) return bad_field(kind, path, "cannot be left empty");
    }
    return {};
}

Expected<void> check_references(const Kind& kind, const FieldValues& values, const KindOfRecord& kind_of) {
    for (const auto& [path, value] : values.set_values().items()) {
        const Field* field = kind.field(top_field(path));
        if (field == nullptr || field->type != FieldType::record || !value.is_string()) continue;
        const auto id = parse_uuid(value.get<std::string>());
        const std::string found = id ? kind_of(*id) : std::string();
        if (!found.empty() && may_name(*field, found)) continue;
        const Kind* wanted_kind = find_kind(field->of);
        const std::string_view label = wanted_kind != nullptr ? wanted_kind->label : std::string_view("record");
        return fail(
            "casebook.no-such-record",
            fmt::format("\"{}\" of {} names {} that is not here.", path, with_article(kind.label), with_article(label)),
            "Record that first, or choose one from the list.", {{"field", std::string(path)}});
    }
    return {};
}

namespace {

SizeMm size_of(const Body& sized) {
    return {sized.number("width_mm").value_or(0.0), sized.number("height_mm").value_or(0.0)};
}

Expected<void> check_on_face(const Kind& kind, const Region& place, SizeMm size) {
    constexpr double folded_over_mm = 100.0;  // tacking edges are drawn as going on from the face
    const BoxMm reach = place.bounds();
    if (reach.min.x_mm >= -folded_over_mm && reach.min.y_mm >= -folded_over_mm &&
        reach.max.x_mm <= size.width_mm + folded_over_mm && reach.max.y_mm <= size.height_mm + folded_over_mm) {
        return {};
    }
    return fail("casebook.off-the-face",
                fmt::format("The place of this {} lies off the face, which is {} × {} mm.", kind.label,
                            format_number(size.width_mm), format_number(size.height_mm)),
                "Draw it on the picture, or correct the size of the face.", {{"field", "region"}});
}

}  // namespace

Expected<void> check_place(const Kind& kind, const Body& after, const FrameOf& frame_of) {
    const bool sized =
        kind.name == "face_frame" || (kind.name == "case" && after.has("width_mm") && after.has("height_mm"));
    if (sized) {
        FaceFrame frame;
        frame.size = size_of(after);
        return frame.check();
    }
    const auto named = after.record("face_frame");
    const auto frame = named ? frame_of(*named) : std::nullopt;
    if (!frame) return {};
    if (kind.name == "photograph" && after.text("face") != frame->text("face")) {
        return fail("casebook.other-face", "This photograph is placed on another face than it shows.",
                    "Say the face and take the placement away together, then place it anew.", {{"field", "face"}});
    }
    const auto place = after.region("region");
    return place && !place->empty() ? check_on_face(kind, *place, size_of(*frame)) : Expected<void>();
}

Expected<void> check_required(const Kind& kind, const Bodies& after, const std::optional<Bodies>& before) {
    for (const Field& field : kind.fields) {
        if (!field.required || after.has(field) || (before && !before->has(field))) continue;
        return fail("casebook.missing-field", fmt::format("A {} needs \"{}\".", kind.label, field.label),
                    "Fill that field in and try again.", {{"field", std::string(field.name)}});
    }
    return {};
}

}  // namespace tedge::casebook
