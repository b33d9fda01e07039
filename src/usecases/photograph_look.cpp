#include "tedge/usecases/photograph_look.hpp"

#include "tedge/imaging/forecast_mark.hpp"
#include "tedge/imaging/shrink.hpp"

namespace tedge::usecases {

namespace {

imaging::PictureProbe probe_of(const imaging::Picture& picture) {
    return {.kind = picture.kind,
            .size = picture.size(),
            .channels = picture.channels(),
            .bits = picture.bits(),
            .has_icc_profile = !picture.icc_profile.empty(),
            .metadata = picture.metadata};
}

}  // namespace

Expected<PhotographLook> look_at_photograph(const std::filesystem::path& file, Damaged damaged,
                                            const Progress& progress) {
    PhotographLook look;
    const auto picture = imaging::read_picture(file, {}, progress.part(0.0, 0.9));
    if (!picture) {
        if (picture.error().code != "picture.damaged" || damaged == Damaged::refused) return pass_on(picture);
        look.damaged = picture.error().message;
        if (auto probe = imaging::probe_picture(file)) look.probe = *std::move(probe);
        return look;
    }
    look.probe = probe_of(*picture);
    look.notes = picture->notes;
    // Colours that no profile can tell are no reason to refuse the file; it is only not guessed by its looks.
    const auto copy = imaging::preview_of(*picture, imaging::forecast_mark_px, progress.part(0.9, 1.0));
    if (progress.stopped()) return cancelled();
    if (copy) {
        look.is_marked_forecast = imaging::forecast_mark_in(*copy).seen;
        look.small = imaging::shrunk_to_fit(*copy, looked_at_px);
        look.character = imaging::character_of(look.small);
    }
    return look;
}

}  // namespace tedge::usecases
