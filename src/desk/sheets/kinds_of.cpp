#include "sheets/kinds_of.hpp"
#include "tedge/casebook/photograph_words.hpp"

namespace tedge::desk {

using usecases::Stage;

std::vector<std::string_view> kinds_of(Stage stage) {
    switch (stage) {
        case Stage::lot:
            return {"lot", "viewing_note", "quality_note", "purchase", "deadline"};
        case Stage::ceiling:
            return {"ceiling", "cost_line", "comparable"};
        case Stage::transit:
            return {"custody", "facing"};
        case Stage::survey:
            return {"finding", "survey", "face_frame"};
        case Stage::photographs:
            return {"photograph", "shot_wanted", "registration", "measurement", "derived_picture", "cleaning_forecast"};
        case Stage::trials:
            return {"trial"};
        case Stage::treatment:
            return {"treatment_step", "gate_override"};
        case Stage::structure:
            return {"structure_step"};
        case Stage::frame:
            return {"picture_frame"};
        case Stage::research:
            return {"provenance_link", "attribution_claim", "inscription"};
        case Stage::dossier:
            return {"document"};
        case Stage::account:
            return {"payment", "sale", "share", "commission", "return", "duty"};
    }
    return {};
}

std::vector<std::string_view> begun_by_hand(Stage stage) {
    auto kinds = kinds_of(stage);
    std::erase_if(kinds, [](std::string_view kind) {
        return kind == "photograph" || kind == "registration" || kind == "ceiling" || kind == "gate_override" ||
               kind == "duty" || casebook::is_made_picture(kind);
    });
    return kinds;
}

}  // namespace tedge::desk
