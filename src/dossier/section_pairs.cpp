// The same place in several states: photographs laid over one reference, and details of what was found.
#include <algorithm>

#include "picture_cut.hpp"
#include "sections.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/placed_by.hpp"

namespace tedge::dossier {

using casebook::Record;

namespace {

constexpr std::size_t most_details = 3;
constexpr double least_detail_mm = 70.0;

struct Laid {
    const Record* moving = nullptr;
    std::optional<double> error_mm{};
};

// All that lie over one reference, in the order of the work.
struct Stack {
    const Record* reference = nullptr;
    std::vector<Laid> laid{};
};

std::vector<Stack> stacks_of(const Extract& extract) {
    std::vector<Stack> stacks;
    const auto registrations = extract.of_kind("registration");
    for (const Record* registration : registrations) {
        const auto reference_id = registration->body.record("reference");
        const auto moving_id = registration->body.record("moving");
        const Record* reference = reference_id ? extract.find(*reference_id) : nullptr;
        const Record* moving = moving_id ? extract.find(*moving_id) : nullptr;
        if (reference == nullptr || moving == nullptr) continue;
        // Placed anew since, by another registration or by corners, it lies by that: its pixels are laid as it lies,
        // and what this registration says of its error is about another place.
        if (casebook::registration_it_lies_by(registrations, *moving) != registration ||
            !casebook::reference_lies_still(*registration, *reference))
            continue;
        auto stack = std::ranges::find(stacks, reference, &Stack::reference);
        if (stack == stacks.end()) stack = stacks.insert(stack, {reference, {}});
        stack->laid.push_back({moving, registration->body.number("error_mm")});
    }
    for (Stack& stack : stacks)
        std::ranges::stable_sort(stack.laid, {}, [](const Laid& laid) { return stage_rank(*laid.moving); });
    return stacks;
}

std::string error_text(const Laid& laid) {
    return laid.error_mm ? " Laid over it to within about " + format_fixed(*laid.error_mm, 2) + " mm." : "";
}

std::optional<Picture> reference_picture(const Sections& sections, const Record& reference) {
    auto picture = picture_of(sections, reference);
    if (!picture) return std::nullopt;
    picture->px_per_mm = px_per_mm_of(reference);
    picture->caption = photograph_caption(sections.extract, reference);
    return picture;
}

// In the shape of the reference, so that a cut of the one is the same cut of the other.
std::optional<Picture> laid_picture(const Sections& sections, const Record& reference, const Laid& laid) {
    auto picture = reference_picture(sections, reference);
    if (!picture) return std::nullopt;
    picture->pixels = [&pictures = sections.pictures, from = laid.moving->id, to = reference.id](int longest_side_px) {
        return pictures.registered(from, to, longest_side_px);
    };
    picture->caption = photograph_caption(sections.extract, *laid.moving) + error_text(laid);
    return picture;
}

Picture cut_if(Picture picture, const std::optional<CutPx>& cut) {
    return cut ? cut_out(std::move(picture), *cut) : picture;
}

void add_states(const Sections& sections, const Stack& stack) {
    const auto cut = cut_to_face(sections.extract, *stack.reference);
    std::vector<Picture> pictures;
    if (auto reference = reference_picture(sections, *stack.reference)) {
        reference->caption += " The others are laid over this one.";
        pictures.push_back(cut_if(*std::move(reference), cut));
    }
    for (const Laid& laid : stack.laid)
        if (auto picture = laid_picture(sections, *stack.reference, laid))
            pictures.push_back(cut_if(*std::move(picture), cut));
    for (std::size_t i = 0; i < pictures.size(); i += 2) {
        PictureRow row{.columns = 2, .max_height_mm = 100.0};
        for (std::size_t j = i; j < std::min(i + 2, pictures.size()); ++j)
            row.pictures.push_back(std::move(pictures[j]));
        sections.add(std::move(row));
    }
}

struct Detail {
    std::size_t number = 0;  // in the list of findings
    const Record* finding = nullptr;
    BoxMm place{};
};

int severity_rank(const Record& finding) {
    const std::string word = finding.body.text_or("severity");
    return word == "severe" ? 0 : word == "moderate" ? 1 : 2;
}

// The gravest and, among these, the largest findings that lie on the reference's face, none inside another's detail.
std::vector<Detail> details_on(const Sections& sections, const Record& reference) {
    const auto frame = reference.body.record("face_frame");
    if (!frame) return {};
    std::vector<Detail> all;
    std::size_t number = 0;
    for (const Record* finding : sections.extract.of_kind("finding")) {
        ++number;
        if (const auto region = region_in_frame(sections.extract, *finding, *frame))
            all.push_back({number, finding, region->bounds()});
    }
    const auto area = [](const Detail& detail) {
        return (detail.place.max.x_mm - detail.place.min.x_mm) * (detail.place.max.y_mm - detail.place.min.y_mm);
    };
    std::ranges::stable_sort(all, [&](const Detail& a, const Detail& b) {
        return std::pair(severity_rank(*a.finding), -area(a)) < std::pair(severity_rank(*b.finding), -area(b));
    });
    std::vector<Detail> chosen;
    for (const Detail& detail : all) {
        const bool shown = std::ranges::any_of(chosen, [&](const Detail& other) {
            return detail.place.min.x_mm < other.place.max.x_mm && other.place.min.x_mm < detail.place.max.x_mm &&
                   detail.place.min.y_mm < other.place.max.y_mm && other.place.min.y_mm < detail.place.max.y_mm;
        });
        if (!shown && chosen.size() < most_details) chosen.push_back(detail);
    }
    return chosen;
}

// The last state in normal light that is later than the reference's.
const Laid* last_state(const Stack& stack) {
    const auto later = [&](const Laid& laid) {
        return is_normal_light(*laid.moving) && stage_rank(*laid.moving) > stage_rank(*stack.reference);
    };
    const auto last = std::find_if(stack.laid.rbegin(), stack.laid.rend(), later);
    return last == stack.laid.rend() ? nullptr : &*last;
}

void add_details(const Sections& sections, const Stack& stack) {
    const Laid* after = last_state(stack);
    if (after == nullptr || !is_normal_light(*stack.reference)) return;
    bool headed = false;
    for (const Detail& detail : details_on(sections, *stack.reference)) {
        const auto cut = cut_to_place(detail.place, *stack.reference, least_detail_mm);
        auto left = reference_picture(sections, *stack.reference);
        auto right = laid_picture(sections, *stack.reference, *after);
        if (!cut || !left || !right) continue;
        PictureRow row{.columns = 2, .max_height_mm = 82.0};
        row.pictures.push_back(cut_out(*std::move(left), *cut));
        row.pictures.push_back(cut_out(*std::move(right), *cut));
        row.caption = "Finding " + std::to_string(detail.number) + ": " + detail.finding->body.text_or("term") + ".";
        if (!std::exchange(headed, true)) sections.heading(2, "Details of the findings");
        sections.add(std::move(row));
    }
}

}  // namespace

void add_registered_pairs(const Sections& sections) {
    const auto stacks = stacks_of(sections.extract);
    if (stacks.empty()) return;
    sections.heading(1, "The same place, before and after");
    for (const Stack& stack : stacks) {
        add_states(sections, stack);
        add_details(sections, stack);
    }
}

}  // namespace tedge::dossier
