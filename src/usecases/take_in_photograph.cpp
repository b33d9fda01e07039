#include <fmt/format.h>

#include <algorithm>

#include "act_values.hpp"
#include "record_of_file.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/casebook/raking.hpp"
#include "tedge/imaging/cleaning_forecast.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/usecases/photograph_word.hpp"
#include "tedge/usecases/photographs.hpp"

namespace tedge::usecases {

Expected<void> check_photograph_word(std::string_view field, std::string_view word) {
    const auto words = words_of(*casebook::find_kind("photograph")->field(field));
    if (std::ranges::find(words, word) != words.end()) return {};
    return fail("photograph.unknown-word", fmt::format("\"{}\" is not a {} of a photograph.", word, field),
                fmt::format("Use one of {}.", fmt::join(words, ", ")), {{"field", std::string(field)}});
}

namespace {

using casebook::Edit;
using casebook::FieldValues;
using casebook::Record;

FieldValues light_of(const NewPhotograph& wanted) {
    FieldValues values;
    values.text("light", wanted.light);
    if (!wanted.raking_side.empty()) values.text("raking_side", wanted.raking_side);
    if (wanted.raking_angle_degrees) values.number("raking_angle_degrees", *wanted.raking_angle_degrees);
    return values;
}

// Before a large file is read and stored for nothing; the casebook asks the same of what is recorded.
Expected<void> check_said(const NewPhotograph& wanted) {
    if (auto light = check_photograph_word("light", wanted.light); !light) return light;
    if (auto stage = check_photograph_word("stage", wanted.stage); !stage) return stage;
    if (!wanted.raking_side.empty()) {
        if (auto side = check_photograph_word("raking_side", wanted.raking_side); !side) return side;
    }
    return casebook::check_raking(body_with(casebook::Body(), light_of(wanted)));
}

bool says_it_is_a_forecast(const PhotographLook& look) {
    return look.probe && look.probe->metadata.description.find(imaging::forecast_description) != std::string::npos;
}

// Whatever its file says of itself by now: the very bytes that a case keeps as a forecast.
Expected<bool> is_a_kept_forecast(casebook::Casebook& book, std::string_view sha256) {
    const auto cases = book.snapshots({{"cleaning_forecast"}, {}});
    if (!cases) return pass_on(cases);
    return std::ranges::any_of(
        *cases, [&](const casebook::CaseSnapshot& each) { return record_of_file(each.records, sha256) != nullptr; });
}

std::unexpected<Error> is_a_forecast() {
    return fail("photograph.is-a-forecast",
                "This file is a cleaning forecast: it was computed and shows nothing that a camera saw.",
                "Take in the photographs themselves; the forecast is kept as one.");
}

// No door for it: nothing else bears that word in our lettering, and a buyer would take it for the picture.
std::unexpected<Error> bears_the_word() {
    return fail(
        "photograph.is-a-forecast",
        "The word FORECAST stands in this picture: it is a cleaning forecast that was saved anew, not a photograph.",
        "Take in the photographs themselves; the forecast is kept where it was made.");
}

// A file says of itself what it likes, in any bytes; a field is text that shows as it stands.
std::string one_line(std::string_view said) {
    return without_controls(trimmed(said));
}

void add_what_it_says(const imaging::PictureMetadata& facts, FieldValues& values) {
    const auto add = [&](std::string_view field, std::string_view said, std::string_view kept = {}) {
        const std::string text = without_controls(trimmed(said), kept);
        if (!text.empty()) values.text(field, text);
    };
    add("lens", facts.lens);
    add("exposure", imaging::exposure_in_words(facts));
    add("file_author", facts.author);
    add("file_copyright", facts.copyright);
    add("file_caption", facts.caption);
    add("file_words", facts.words, "\n");
    if (facts.has_location) values.flag("file_tells_place", true);
}

FieldValues values_of(const NewPhotograph& wanted, const PhotographLook& look, std::string_view sha256) {
    FieldValues values = light_of(wanted);
    values.text("face", to_text(wanted.face)).text("stage", wanted.stage);
    values.text("sha256", sha256).text("file_name", without_controls(to_utf8(wanted.file.filename())));
    if (look.probe) {
        values.text("media_type", imaging::media_type(look.probe->kind));
        values.integer("width_px", look.probe->size.width_px).integer("height_px", look.probe->size.height_px);
        const auto& facts = look.probe->metadata;
        const std::string camera = one_line(facts.camera_make + " " + facts.camera_model);
        if (!camera.empty() && is_valid_utf8(facts.camera_make + facts.camera_model)) values.text("camera", camera);
        if (!facts.captured_at.empty()) values.text("taken_at", one_line(facts.captured_at));
        add_what_it_says(facts, values);
    }
    if (!look.damaged.empty()) values.text("damaged", one_line(look.damaged));
    if (!look.notes.empty())
        values.text("read_notes", without_controls(fmt::format("{}", fmt::join(look.notes, "\n")), "\n"));
    if (wanted.has_scale) values.flag("has_scale", true);
    if (wanted.has_chart) values.flag("has_chart", true);
    if (!wanted.licence.empty()) values.text("licence", wanted.licence);
    if (!wanted.caption.empty()) values.text("caption", wanted.caption);
    if (!wanted.guesses.empty()) values.flag("guessed", true).text("guessed_why", in_words(wanted.guesses));
    return values;
}

Expected<TakenPhotograph> record_it(const Acting& acting, const NewPhotograph& wanted, const PhotographLook& look,
                                    TakenPhotograph taken) {
    const auto forecast = is_a_kept_forecast(acting.book, taken.sha256);
    if (!forecast) return pass_on(forecast);
    if (*forecast) return is_a_forecast();
    const auto known = acting.book.records(wanted.case_id, "photograph");
    if (!known) return pass_on(known);
    if (const Record* same = record_of_file(*known, taken.sha256)) {
        taken.id = same->id;
        taken.already = true;
        return taken;
    }
    Edit edit;
    edit.case_id = wanted.case_id;
    edit.kind = "photograph";
    edit.values = values_of(wanted, look, taken.sha256);
    if (!wanted.photographer.empty()) {
        const auto person = acting.book.person_named(wanted.photographer);
        if (!person) return pass_on(person);
        edit.values.record("author", *person);
    }
    const auto made = acting.book.commit(acting.author, {edit});
    if (!made) return pass_on(made);
    taken.id = made->front();
    return taken;
}

}  // namespace

Expected<TakenPhotograph> take_in_photograph(const Acting& acting, const NewPhotograph& wanted,
                                             const Progress& progress) {
    if (auto said = check_said(wanted); !said) return pass_on(said);
    if (auto before = taken_before(acting.book, wanted.case_id, wanted.file); before && *before) return **before;
    const auto look = look_at_photograph(wanted.file, wanted.keep_damaged ? Damaged::kept : Damaged::refused,
                                         progress.part(0.0, 0.8));
    if (!look) return pass_on(look);
    return take_in_looked_at(acting, wanted, *look, progress.part(0.8, 1.0));
}

Expected<std::optional<TakenPhotograph>> taken_before(casebook::Casebook& book, const Uuid& case_id,
                                                      const std::filesystem::path& file) {
    // Reading a pipe would wait for ever; whoever opens the file next says what it is.
    std::error_code unknown;
    if (!std::filesystem::is_regular_file(file, unknown)) return std::nullopt;
    const auto digest = hash_file_hex(file, HashAlgorithm::sha256);
    if (!digest) return pass_on(digest);
    const auto known = book.records(case_id, "photograph");
    if (!known) return pass_on(known);
    const Record* same = record_of_file(*known, *digest);
    if (same == nullptr) return std::nullopt;
    std::error_code missing, gone;
    const auto kept = std::filesystem::file_size(book.original_path(*digest), missing);
    const auto bytes = std::filesystem::file_size(file, gone);
    const auto damaged = book.damaged_originals();
    if (missing || gone || kept != bytes || !damaged || std::ranges::find(*damaged, *digest) != damaged->end())
        return std::nullopt;
    TakenPhotograph taken{.id = same->id, .sha256 = *digest, .size = {}, .already = true, .damaged = {}, .notes = {}};
    taken.damaged = same->body.text_or("damaged");
    const auto width = same->body.integer("width_px"), height = same->body.integer("height_px");
    if (width && height) taken.size = SizePx{static_cast<int>(*width), static_cast<int>(*height)};
    return taken;
}

Expected<TakenPhotograph> take_in_looked_at(const Acting& acting, const NewPhotograph& wanted,
                                            const PhotographLook& look, const Progress& progress) {
    if (auto said = check_said(wanted); !said) return pass_on(said);
    if (says_it_is_a_forecast(look)) return is_a_forecast();
    if (look.is_marked_forecast) return bears_the_word();
    if (progress.stopped()) return cancelled();
    progress.at(0.0, "storing the file");
    const auto stored = acting.book.store_original(wanted.file);
    if (!stored) return pass_on(stored);

    TakenPhotograph taken;
    taken.sha256 = stored->sha256;
    taken.damaged = look.damaged;
    taken.notes = look.notes;
    if (look.probe) taken.size = look.probe->size;
    auto recorded = acting.book.in_one_act([&] { return record_it(acting, wanted, look, std::move(taken)); });
    if (recorded) progress.at(1.0, "recorded");
    return recorded;
}

}  // namespace tedge::usecases
