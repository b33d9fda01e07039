#include "existing_photograph.hpp"

namespace tedge::usecases {

Expected<casebook::Record> existing_photograph(casebook::Casebook& book, const Uuid& id) {
    auto record = book.record(id);
    if (!record) return record;
    if (record->kind != "photograph")
        return fail("photograph.not-a-photograph", "This record is not a photograph.", "Give the id of a photograph.");
    if (record->deleted) return fail("casebook.deleted-record", "The photograph was deleted.", "Restore it first.");
    return record;
}

Expected<imaging::ChartPicture> linear_light_of(const std::filesystem::path& file, const Progress& progress) {
    const auto picture =
        imaging::read_picture(file, {.raw = imaging::RawRendering::camera_linear}, progress.part(0.0, 0.8));
    if (!picture) return pass_on(picture);
    return imaging::chart_picture(*picture, progress.part(0.8, 1.0));
}

}  // namespace tedge::usecases
