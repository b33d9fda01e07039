#include <fmt/format.h>

#include <algorithm>

#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/casebook/field_table.hpp"
#include "tedge/imaging/cleaning_forecast.hpp"
#include "tedge/imaging/picture.hpp"
#include "tedge/usecases/photographs.hpp"

namespace tedge::usecases {

namespace {

using casebook::Edit;
using casebook::FieldValues;
using casebook::Record;

Expected<void> check_word(std::string_view field_name, std::string_view word) {
    const auto words = words_of(*casebook::find_kind("photograph")->field(field_name));
    if (std::ranges::find(words, word) != words.end()) return {};
    return fail("photograph.unknown-word", fmt::format("\"{}\" is not a {} of a photograph.", word, field_name),
                fmt::format("Use one of {}.", fmt::join(words, ", ")), {{"field", std::string(field_name)}});
}

// What is known of the file: read in full when it is sound, from its head when it is damaged but wanted all the same.
struct Look {
    std::optional<imaging::PictureProbe> probe;
    std::string damaged;
    std::vector<std::string> notes;
};

Expected<Look> look_at(const NewPhotograph& wanted, const Progress& progress) {
    const auto picture = imaging::read_picture(wanted.file, {}, progress);
    if (!picture) {
        const bool may_be_kept = picture.error().code == "picture.damaged";
        if (!may_be_kept || !wanted.keep_damaged) return pass_on(picture);
    }
    Look look;
    if (!picture) look.damaged = picture.error().message;
    if (picture) look.notes = picture->notes;
    if (auto probe = imaging::probe_picture(wanted.file)) look.probe = *std::move(probe);
    return look;
}

const Record* same_file(const std::vector<Record>& photographs, std::string_view sha256) {
    const auto found = std::ranges::find_if(
        photographs, [&](const Record& record) { return record.body.text_or("sha256") == sha256; });
    return found == photographs.end() ? nullptr : &*found;
}

bool says_it_is_a_forecast(const Look& look) {
    return look.probe && look.probe->metadata.description.find(imaging::forecast_description) != std::string::npos;
}

// Whatever its file says of itself by now: the very bytes that a case keeps as a forecast.
Expected<bool> is_a_kept_forecast(casebook::Casebook& book, std::string_view sha256) {
    const auto cases = book.snapshots({{"cleaning_forecast"}, {}});
    if (!cases) return pass_on(cases);
    return std::ranges::any_of(
        *cases, [&](const casebook::CaseSnapshot& each) { return same_file(each.records, sha256) != nullptr; });
}

std::unexpected<Error> is_a_forecast() {
    return fail("photograph.is-a-forecast",
                "This file is a cleaning forecast: it was computed and shows nothing that a camera saw.",
                "Take in the photographs themselves; the forecast is kept as one.");
}

// A file says of itself what it likes, in any bytes; a field is text that shows as it stands.
std::string one_line(std::string_view said) {
    return without_controls(trimmed(said));
}

FieldValues values_of(const NewPhotograph& wanted, const Look& look, std::string_view sha256) {
    FieldValues values;
    values.text("face", to_text(wanted.face)).text("light", wanted.light).text("stage", wanted.stage);
    values.text("sha256", sha256).text("file_name", without_controls(to_utf8(wanted.file.filename())));
    if (look.probe) {
        values.text("media_type", imaging::media_type(look.probe->kind));
        values.integer("width_px", look.probe->size.width_px).integer("height_px", look.probe->size.height_px);
        const auto& facts = look.probe->metadata;
        const std::string camera = one_line(facts.camera_make + " " + facts.camera_model);
        if (!camera.empty() && is_valid_utf8(facts.camera_make + facts.camera_model)) values.text("camera", camera);
        if (!facts.captured_at.empty()) values.text("taken_at", one_line(facts.captured_at));
    }
    if (!look.damaged.empty()) values.text("damaged", one_line(look.damaged));
    if (!look.notes.empty())
        values.text("read_notes", without_controls(fmt::format("{}", fmt::join(look.notes, "\n")), "\n"));
    if (wanted.has_scale) values.flag("has_scale", true);
    if (wanted.has_chart) values.flag("has_chart", true);
    if (!wanted.licence.empty()) values.text("licence", wanted.licence);
    if (!wanted.caption.empty()) values.text("caption", wanted.caption);
    return values;
}

Expected<TakenPhotograph> record_it(const Acting& acting, const NewPhotograph& wanted, const Look& look,
                                    TakenPhotograph taken) {
    const auto forecast = is_a_kept_forecast(acting.book, taken.sha256);
    if (!forecast) return pass_on(forecast);
    if (*forecast) return is_a_forecast();
    const auto known = acting.book.records(wanted.case_id, "photograph");
    if (!known) return pass_on(known);
    if (const Record* same = same_file(*known, taken.sha256)) {
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
    for (const auto& [field, word] : {std::pair<std::string_view, std::string_view>{"light", wanted.light},
                                      std::pair<std::string_view, std::string_view>{"stage", wanted.stage}}) {
        if (auto checked = check_word(field, word); !checked) return pass_on(checked);
    }
    const auto look = look_at(wanted, progress.part(0.0, 0.8));
    if (!look) return pass_on(look);
    if (says_it_is_a_forecast(*look)) return is_a_forecast();
    if (progress.stopped()) return cancelled();
    progress.at(0.8, "storing the file");
    const auto stored = acting.book.store_original(wanted.file);
    if (!stored) return pass_on(stored);

    TakenPhotograph taken;
    taken.sha256 = stored->sha256;
    taken.damaged = look->damaged;
    taken.notes = look->notes;
    if (look->probe) taken.size = look->probe->size;
    auto recorded = acting.book.in_one_act([&] { return record_it(acting, wanted, *look, std::move(taken)); });
    if (recorded) progress.at(1.0, "recorded");
    return recorded;
}

}  // namespace tedge::usecases
