#include "existing_photograph.hpp"

namespace tedge::usecases {

Expected<casebook::Record> existing_photograph(casebook::Casebook& book, const Uuid& id) {
    auto record = book.record(id);
    if (!record) return record;
    if (record->kind != "photograph")
        return fail("photograph.not-a-photograph", "This record is not a photograph.", "Give the id of a photograph.",
                    {{"record", to_text(id)}});
    if (record->deleted)
        return fail("casebook.deleted-record", "The photograph was removed from the case.", "Restore it first.",
                    {{"photograph", to_text(id)}});
    return record;
}

Expected<Done> record_measurement(const Acting& acting, const Uuid& photograph, const casebook::FieldValues& values) {
    return acting.book.in_one_act([&]() -> Expected<Done> {
        const auto now = existing_photograph(acting.book, photograph);
        if (!now) return pass_on(now);
        return add_record(acting, now->case_id, "measurement", values);
    });
}

namespace {

Expected<imaging::Picture> camera_values_of(const std::filesystem::path& file, const Progress& progress) {
    return imaging::read_picture(file, {.raw = imaging::RawRendering::camera_linear}, progress);
}

}  // namespace

Expected<imaging::ChartPicture> linear_light_of(const std::filesystem::path& file, const Progress& progress) {
    const auto picture = camera_values_of(file, progress.part(0.0, 0.8));
    if (!picture) return pass_on(picture);
    return imaging::linear_picture(*picture, progress.part(0.8, 1.0));
}

Expected<imaging::ChartPicture> coloured_light_of(const std::filesystem::path& file, const Progress& progress) {
    const auto picture = camera_values_of(file, progress.part(0.0, 0.8));
    if (!picture) return pass_on(picture);
    return imaging::chart_picture(*picture, progress.part(0.8, 1.0));
}

}  // namespace tedge::usecases
