// How far a picture has come, read from what is recorded of it.
#include <algorithm>

#include "tedge/usecases/cases.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;
using casebook::Record;

constexpr std::array<std::string_view, all_stages.size()> stage_texts{
    "lot",       "ceiling",   "transit", "survey",   "photographs", "trials",
    "treatment", "structure", "frame",   "research", "dossier",     "account"};

bool any(const CaseSnapshot& snapshot, std::string_view kind) {
    return !snapshot.of_kind(kind).empty();
}

// What is only planned has not been done.
bool any_done(const CaseSnapshot& snapshot, std::string_view kind) {
    return std::ranges::any_of(snapshot.of_kind(kind), [](const Record* r) { return !r->body.flag("planned"); });
}

bool is_done(const CaseSnapshot& snapshot, Stage stage) {
    switch (stage) {
        case Stage::lot:
            return any(snapshot, "lot");
        case Stage::ceiling:
            return any(snapshot, "ceiling");
        case Stage::transit:
            return any(snapshot, "custody");
        case Stage::survey:
            return any(snapshot, "survey");
        case Stage::photographs:
            // The saleroom's own picture is part of the lot, not of our work.
            return std::ranges::any_of(snapshot.of_kind("photograph"),
                                       [](const Record* r) { return r->body.text_or("stage") != "saleroom"; });
        case Stage::trials:
            return any(snapshot, "trial");
        case Stage::treatment:
            return any_done(snapshot, "treatment_step");
        case Stage::structure:
            return any_done(snapshot, "structure_step");
        case Stage::frame:
            return any(snapshot, "picture_frame");
        case Stage::research:
            return any(snapshot, "provenance_link") || any(snapshot, "attribution_claim");
        case Stage::dossier:
            return std::ranges::any_of(snapshot.of_kind("document"),
                                       [](const Record* r) { return r->body.text_or("sort") == "dossier"; });
        case Stage::account:
            return any(snapshot, "sale");
    }
    return false;
}

}  // namespace

std::string_view to_text(Stage stage) {
    return stage_texts[static_cast<std::size_t>(stage)];
}

casebook::KindsWanted kinds_of_stages() {
    return {.all_of = {"photograph", "treatment_step", "structure_step", "document"},
            .any_of = {"lot", "ceiling", "custody", "survey", "trial", "picture_frame", "provenance_link",
                       "attribution_claim", "sale"}};
}

StageMarks stage_marks(const CaseSnapshot& snapshot) {
    StageMarks marks;
    for (std::size_t i = 0; i < all_stages.size(); ++i) {
        marks.done[i] = is_done(snapshot, all_stages[i]);
        // Research goes on beside everything else and says nothing of how far the picture is.
        if (marks.done[i] && all_stages[i] != Stage::research) marks.now = all_stages[i];
    }
    return marks;
}

}  // namespace tedge::usecases
