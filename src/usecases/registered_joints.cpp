#include "registered_joints.hpp"

#include <algorithm>
#include <cmath>

#include "tedge/casebook/placed_by.hpp"

namespace tedge::usecases {

namespace {

using casebook::CaseSnapshot;
using casebook::Record;

constexpr std::size_t longest_chain = 16;

double placed_to_mm(const Record& photograph) {
    const auto placement = photograph.body.placement("face_from_photo");
    return placement ? placement->error_mm : 0.0;
}

// What a photograph lies by.
std::optional<Joint> joint_of(const CaseSnapshot& snapshot, const Record& photograph) {
    const Record* registration = casebook::registration_it_lies_by(snapshot.of_kind("registration"), photograph);
    if (registration == nullptr) return std::nullopt;
    const Record* reference = snapshot.find(registration->body.record("reference").value_or(Uuid{}));
    if (reference == nullptr || !casebook::reference_lies_still(*registration, *reference)) return std::nullopt;
    const double placed_mm = placed_to_mm(photograph), of_reference_mm = placed_to_mm(*reference);
    return Joint{registration, reference, std::max(0.0, placed_mm * placed_mm - of_reference_mm * of_reference_mm)};
}

// From a photograph to the one that hangs on no other.
std::vector<Joint> chain_of(const CaseSnapshot& snapshot, const Record& photograph) {
    std::vector<Joint> chain;
    const Record* at = &photograph;
    while (chain.size() < longest_chain) {
        const auto joint = joint_of(snapshot, *at);
        const bool seen =
            joint && (joint->reference->id == photograph.id || std::ranges::any_of(chain, [&](const Joint& each) {
                          return each.reference->id == joint->reference->id;
                      }));
        if (!joint || seen) break;
        chain.push_back(*joint);
        at = joint->reference;
    }
    return chain;
}

// How many joints up this chain, which begins at `photograph`, that record stands.
std::optional<std::ptrdiff_t> steps_to(const std::vector<Joint>& chain, const Record& photograph, const Uuid& id) {
    if (photograph.id == id) return 0;
    const auto found = std::ranges::find_if(chain, [&](const Joint& each) { return each.reference->id == id; });
    if (found == chain.end()) return std::nullopt;
    return found - chain.begin() + 1;
}

}  // namespace

std::optional<std::vector<Joint>> joints_between(const CaseSnapshot& snapshot, const Record& first,
                                                 const Record& second) {
    const auto one = chain_of(snapshot, first), other = chain_of(snapshot, second);
    std::optional<std::vector<Joint>> best;
    for (std::size_t up = 0; up <= one.size(); ++up) {
        const Record& shared = up == 0 ? first : *one[up - 1].reference;
        const auto there = steps_to(other, second, shared.id);
        if (!there) continue;
        std::vector<Joint> joints(one.begin(), one.begin() + static_cast<std::ptrdiff_t>(up));
        joints.insert(joints.end(), other.begin(), other.begin() + *there);
        if (!best || error_mm(joints) < error_mm(*best)) best = std::move(joints);
    }
    return best;
}

double error_mm(const std::vector<Joint>& joints) {
    double sum_mm2 = 0.0;
    for (const Joint& each : joints) sum_mm2 += each.own_mm2;
    return std::sqrt(sum_mm2);
}

}  // namespace tedge::usecases
