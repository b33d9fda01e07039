#include "tedge/usecases/framing.hpp"

#include <tuple>

#include "tedge/casebook/photograph_words.hpp"

namespace tedge::usecases {

using casebook::Body;
using casebook::Record;

namespace {

bool repeats(const Body& photograph, const Body& earlier) {
    const auto side = photograph.text("raking_side");
    const auto earlier_side = earlier.text("raking_side");
    return photograph.text("face") == earlier.text("face") && photograph.text("light") == earlier.text("light") &&
           (!side || !earlier_side || side == earlier_side);
}

auto order_of(const Record& photograph) {
    return std::tuple(casebook::stage_rank(photograph.body.text_or("stage")), photograph.body.text_or("taken_at"),
                      photograph.first_written, photograph.id);
}

}  // namespace

const Record* earlier_shot(const casebook::CaseSnapshot& snapshot, const Record& photograph) {
    const int stage = casebook::stage_rank(photograph.body.text_or("stage"));
    const Record* best = nullptr;
    for (const Record* each : snapshot.of_kind("photograph")) {
        if (!repeats(photograph.body, each->body) || casebook::stage_rank(each->body.text_or("stage")) >= stage)
            continue;
        if (best == nullptr || order_of(*each) > order_of(*best)) best = each;
    }
    return best;
}

}  // namespace tedge::usecases
