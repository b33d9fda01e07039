#include "placed_pair.hpp"

#include <fmt/format.h>

#include <cmath>

#include "registered_joints.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/casebook/photograph_words.hpp"

namespace tedge::usecases {

using casebook::Record;

Expected<void> check_two_of_one_case(const Record& first, const Record& second) {
    if (first.id == second.id)
        return fail("photograph.same", "This is one and the same photograph, named twice.", "Choose two photographs.",
                    {{"photograph", to_text(first.id)}});
    if (first.case_id != second.case_id)
        return fail("photograph.other-case", "The two photographs belong to different pictures.",
                    "Choose two photographs of one case.");
    return {};
}

Expected<PlacedPair> placed_pair(casebook::Casebook& book, const Uuid& first_id, const Uuid& second_id) {
    const auto one = existing_photograph(book, first_id);
    if (!one) return pass_on(one);
    const auto other = existing_photograph(book, second_id);
    if (!other) return pass_on(other);
    if (const auto two = check_two_of_one_case(*one, *other); !two) return pass_on(two);
    if (one->body.text_or("face") != other->body.text_or("face"))
        return fail("photograph.other-face", "The two do not show the same face.", "Choose two of one face.");
    auto snapshot = book.snapshot(one->case_id);
    if (!snapshot) return pass_on(snapshot);
    auto first = placed_photograph(book, *snapshot, first_id);
    if (!first) return pass_on(first);
    const Uuid frame = first->record.body.record("face_frame").value_or(Uuid{});
    auto second = placed_photograph(book, *snapshot, second_id, frame);
    if (!second) return pass_on(second);
    const SizeMm face = casebook::size_of_frame(*snapshot->find(frame));
    const auto joints = joints_between(*snapshot, first->record, second->record);
    const double apart_mm =
        joints ? error_mm(*joints) : std::hypot(first->face_from_photo.error_mm, second->face_from_photo.error_mm);
    return PlacedPair{*std::move(first), *std::move(second), *std::move(snapshot), frame, face,
                      apart_mm,          joints.has_value()};
}

Expected<void> check_order(const Record& before, const Record& after) {
    const std::string earlier = before.body.text_or("stage"), later = after.body.text_or("stage");
    const int first = casebook::stage_rank(earlier), second = casebook::stage_rank(later);
    if (first < 0 || second < 0 || first <= second) return {};
    return fail("photograph.wrong-way-round",
                fmt::format("The photograph named as the earlier one is of a later stage ({}) than the other ({}).",
                            earlier, later),
                "Name the earlier photograph first.", {{"before", to_text(before.id)}, {"after", to_text(after.id)}});
}

}  // namespace tedge::usecases
