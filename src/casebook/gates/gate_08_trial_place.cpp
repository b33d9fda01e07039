// Gate 8, before a trial at a place: it keeps clear, by a margin, of unstable paint that is not consolidated; warned
// about are overpaint, filling, water-sensitive ground and a signature there. Common practice.
#include <fmt/format.h>

#include <array>

#include "gates/evidence.hpp"
#include "gates/gate_rules.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/base/text.hpp"

namespace tedge::casebook {

namespace {

bool is_paint(const Record& finding) {
    const std::string layer = finding.body.text_or("layer");
    return layer == "paint" || layer == "ground" || layer == "varnish";
}

std::string quoted_term(const Record& finding) {
    return finding.body.text_or("term", "unstable");
}

struct Place {
    Uuid frame;
    Region region;
};

void ask_about_unstable(Asking& asking, const Place& place) {
    const double margin_mm = asking.act().margin_mm;
    for (const UnstablePlace& unstable : unstable_places(asking.snapshot(), place.frame)) {
        const std::string term = quoted_term(*unstable.finding);
        if (!unstable.region) {
            asking.closed_unless(false, {"not-comparable",
                                         fmt::format("There is unstable paint ({}) whose place is known in another "
                                                     "frame of the face only.",
                                                     term),
                                         "Join the two frames, or record the place again in this one.", "survey"});
            continue;
        }
        const bool clear = !place.region.within_margin(*unstable.region, margin_mm);
        const std::string message =
            fmt::format("The place lies within {} mm of unstable {} ({}).", format_number(margin_mm),
                        is_paint(*unstable.finding) ? "paint" : "support", term);
        const std::string advice = "Choose another place, or consolidate there first and record it.";
        if (is_paint(*unstable.finding)) {
            asking.closed_unless(clear, {"unstable-paint", message, advice, "survey"});
        } else {
            asking.warns_unless(clear, {"unstable-support", message, advice, "survey"});
        }
    }
}

// Terms of the condition vocabulary for what later hands put there; a finding's term may say more than the word.
std::string_view warned_about(const Body& finding) {
    struct Told {
        std::string_view term;
        std::string_view said;
    };
    constexpr std::array told{Told{"overpaint", "overpaint"}, Told{"retouch", "retouching"}, Told{"fill", "a filling"},
                              Told{"putty", "a filling"}};
    const std::string term = lowered_ascii(finding.text_or("term"));
    for (const Told& each : told) {
        if (term.find(each.term) != std::string::npos) return each.said;
    }
    return finding.flag("water_sensitive") ? std::string_view("a passage sensitive to water") : std::string_view();
}

bool lies_on(const Asking& asking, const Place& place, const Body& fields) {
    const auto frame = fields.record("face_frame");
    const auto region = fields.region("region");
    const auto here = frame && region ? seen_in_frame(asking.snapshot(), *region, *frame, place.frame) : std::nullopt;
    return here && here->distance_mm(place.region) <= 0.0;
}

void ask_about_what_lies_there(Asking& asking, const Place& place) {
    for (const Record* finding : asking.snapshot().of_kind("finding")) {
        const std::string_view what = warned_about(finding->body);
        if (what.empty()) continue;
        asking.warns_unless(!lies_on(asking, place, finding->body),
                            {"later-material", fmt::format("The place touches {}.", what),
                             "Choose another place, or mean this one and say so in the trial.", "survey"});
    }
    for (const Record* inscription : asking.snapshot().of_kind("inscription")) {
        if (inscription->body.text("kind") != "signature") continue;
        asking.warns_unless(!lies_on(asking, place, inscription->body),
                            {"signature", "The place touches the signature.",
                             "Choose another place; a signature is not where trials begin.", "survey"});
    }
}

bool is_on_the_face(const Asking& asking, const Place& place) {
    const Body& frame = asking.snapshot().find(place.frame)->body;
    const auto face = Region::rectangle(
        {0.0, 0.0}, {frame.number("width_mm").value_or(0.0), frame.number("height_mm").value_or(0.0)});
    return face && face->distance_mm(place.region) <= 0.0;
}

void ask_trial_place(Asking& asking) {
    const auto frame = asking.act().fields.record("face_frame");
    const auto region = asking.act().fields.region("region");
    // A frame that was removed, or of another picture, says of no place on this one.
    const bool placed = frame && region && !region->empty() && face_of_frame(asking.snapshot(), *frame);
    asking.closed_unless(placed, {"place", "It is not said where the trial is to be.",
                                  "Draw the place of the trial on the picture.", "trials"});
    if (!placed) return;
    const Place place{*frame, *region};
    asking.closed_unless(is_on_the_face(asking, place), {"off-the-face", "The place of the trial lies off the picture.",
                                                         "Draw it on the picture.", "trials"});
    ask_about_unstable(asking, place);
    ask_about_what_lies_there(asking, place);
}

}  // namespace

const GateRule gate_trial_place{8, "a trial at a place", [](const Act& act) { return act.kind == "trial"; },
                                ask_trial_place, "face_frame region"};

}  // namespace tedge::casebook
