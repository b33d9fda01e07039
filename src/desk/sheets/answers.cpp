#include "sheets/answers.hpp"

#include <algorithm>
#include <map>

#include "client_screen.hpp"
#include "tedge/provenance/ownership_chain.hpp"
#include "tedge/structure/standard_sizes.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using casebook::CaseSnapshot;
using casebook::Record;
using usecases::Stage;
using Lines = std::vector<AnswerLine>;

QString tr(const char* text) {
    return QObject::tr(text);
}

Lines lot_answer(const CaseSnapshot& snapshot, bool client_looks) {
    const auto lots = snapshot.of_kind("lot");
    if (lots.empty()) return {{tr("No lot is recorded: how did the picture come here?"), Tone::plain}};
    Lines lines;
    const casebook::Body& lot = lots.back()->body;
    lines.push_back(
        {shown(lot.text_or("catalogue_attribution", lot.text_or("catalogue_text", "catalogued without words"))),
         Tone::plain});
    if (client_looks) return lines;
    lines.push_back(
        {tr("%1, lot %2")
             .arg(shown(lot.text_or("saleroom", "saleroom not named")), shown(lot.text_or("lot_number", "?"))),
         Tone::plain});
    const auto low = lot.money("estimate_low");
    const auto high = lot.money("estimate_high");
    if (low && high)
        lines.push_back(
            {tr("Estimate %1 to %2").arg(shown(to_display_text(*low)), shown(to_display_text(*high))), Tone::plain});
    if (!lot.has("terms_read"))
        lines.push_back({tr("△ The terms of this sale are not marked as read."), Tone::warning});
    return lines;
}

Lines ceiling_answer(const CaseSnapshot& snapshot, bool client_looks) {
    if (client_looks) return {{tr("Hidden while a client looks."), Tone::plain}};
    const auto ceilings = snapshot.of_kind("ceiling");
    if (ceilings.empty()) return {{tr("No ceiling is fixed."), Tone::warning}};
    const Record& fixed = *ceilings.back();
    Lines lines;
    if (const auto limit = fixed.body.money("limit"))
        lines.push_back({tr("Limit %1").arg(shown(to_display_text(*limit))), Tone::done});
    if (const auto binding = fixed.body.text("report/binding"))
        lines.push_back({tr("The %1 ceiling binds.").arg(shown(*binding)), Tone::plain});
    const auto notes = snapshot.of_kind("viewing_note");
    if (!notes.empty() && notes.back()->last_written > fixed.last_written) {
        lines.push_back({tr("△ A viewing note came after it: reckon again."), Tone::warning});
    }
    return lines;
}

Lines transit_answer(const CaseSnapshot& snapshot, bool client_looks) {
    const usecases::CaseCard card = usecases::card_of(snapshot);
    if (card.place.empty()) return {{tr("Nobody wrote down where it is."), Tone::warning}};
    Lines lines{{tr("Now: %1").arg(shown(card.place)), Tone::plain}};
    if (client_looks) return lines;
    lines.push_back(
        {card.holder.empty() ? tr("△ Who holds it is not recorded.") : tr("Held by %1").arg(shown(card.holder)),
         card.holder.empty() ? Tone::warning : Tone::plain});
    lines.push_back({card.insured_by.empty() ? tr("△ Who insures it is not recorded.")
                                             : tr("Insured by %1").arg(shown(card.insured_by)),
                     card.insured_by.empty() ? Tone::warning : Tone::plain});
    return lines;
}

Lines survey_answer(const CaseSnapshot& snapshot, bool /*client_looks*/) {
    Lines lines;
    const auto findings = snapshot.of_kind("finding");
    const auto unstable = std::ranges::count_if(
        findings, [](const Record* r) { return r->body.flag("unstable") && !r->body.has("consolidated_on"); });
    if (unstable > 0)
        lines.push_back({tr("⊘ %1 places are unstable and not consolidated.").arg(unstable), Tone::closed});
    lines.push_back({tr("%1 findings on %2 surveyed faces").arg(findings.size()).arg(snapshot.of_kind("survey").size()),
                     Tone::plain});
    if (snapshot.of_kind("survey").empty()) lines.push_back({tr("△ No face is surveyed yet."), Tone::warning});
    return lines;
}

Lines photograph_answer(const CaseSnapshot& snapshot, bool /*client_looks*/) {
    const auto photographs = snapshot.of_kind("photograph");
    const auto placed =
        std::ranges::count_if(photographs, [](const Record* r) { return r->body.has("face_from_photo"); });
    Lines lines{
        {tr("%1 photographs, %2 of them placed in millimetres").arg(photographs.size()).arg(placed), Tone::plain}};
    for (const Record* photo : photographs) {
        if (photo->body.has("damaged"))
            lines.push_back({tr("△ Damaged: %1").arg(shown(photo->body.text_or("damaged"))), Tone::warning});
    }
    for (const char* light : {"raking", "ultraviolet"}) {
        const bool there =
            std::ranges::any_of(photographs, [&](const Record* r) { return r->body.text_or("light") == light; });
        if (!there) lines.push_back({tr("△ None in %1 light.").arg(QLatin1String(light)), Tone::warning});
    }
    lines.push_back({tr("Ultraviolet lamps harm eyes and skin: goggles, covered skin, short times."), Tone::warning});
    return lines;
}

Lines trial_answer(const CaseSnapshot& snapshot, bool /*client_looks*/) {
    struct Passage {
        int cleared = 0, stopped = 0, all = 0;
    };
    std::map<std::string, Passage> passages;
    for (const Record* trial : snapshot.of_kind("trial")) {
        Passage& passage = passages[trial->body.text_or("passage")];
        ++passage.all;
        const std::string verdict = trial->body.text_or("verdict");
        const std::string swab = trial->body.text_or("swab_answer");
        if (verdict == "cleared") ++passage.cleared;
        if (verdict == "stop" || swab == "original-paint" || swab == "undecided") ++passage.stopped;
    }
    Lines lines;
    for (const auto& [name, p] : passages) {
        if (p.stopped > 0) {
            lines.push_back({tr("⊘ %1: stop in %2 of %3 trials; the colour on the swab is answered first.")
                                 .arg(shown(name))
                                 .arg(p.stopped)
                                 .arg(p.all),
                             Tone::closed});
        } else {
            lines.push_back(
                {tr("%1: cleared in %2 of %3 trials.").arg(shown(name)).arg(p.cleared).arg(p.all), Tone::plain});
        }
    }
    if (lines.empty())
        lines.push_back({tr("No trials yet. The mildest first, in a robust light passage."), Tone::plain});
    lines.push_back(
        {tr("A few trials prove little. Ventilate, wear gloves; limits and local codes apply."), Tone::warning});
    return lines;
}

Lines treatment_answer(const CaseSnapshot& snapshot, bool /*client_looks*/) {
    const auto steps = snapshot.of_kind("treatment_step");
    if (steps.empty()) return {{tr("Nothing was done to the paint yet."), Tone::plain}};
    Lines lines;
    for (const Record* step : steps) {
        const bool planned = step->body.flag("planned");
        lines.push_back(
            {QStringLiteral("%1%2 %3").arg(shown(step->body.text_or("act")), planned ? tr(" (planned)") : QString(),
                                           shown(step->body.text_or("done_on"))),
             planned ? Tone::plain : Tone::done});
    }
    return lines;
}

Lines structure_answer(const CaseSnapshot& snapshot, bool /*client_looks*/) {
    Lines lines;
    const usecases::CaseCard card = usecases::card_of(snapshot);
    if (card.size) {
        const auto near = structure::nearest_standard_sizes(card.size->width_mm, card.size->height_mm, 1);
        if (near && !near->empty()) {
            lines.push_back({tr("Nearest standard format: %1 %2")
                                 .arg(shown(near->front().size->system), shown(near->front().size->name)),
                             Tone::plain});
        }
    }
    for (const Record* step : snapshot.of_kind("structure_step")) {
        lines.push_back(
            {QStringLiteral("%1 %2").arg(shown(step->body.text_or("act")), shown(step->body.text_or("done_on"))),
             Tone::done});
    }
    if (snapshot.of_kind("inscription").empty())
        lines.push_back({tr("△ Before the back is covered: what is written on it?"), Tone::warning});
    return lines;
}

Lines frame_answer(const CaseSnapshot& snapshot, bool /*client_looks*/) {
    const auto frames = snapshot.of_kind("picture_frame");
    if (frames.empty()) return {{tr("No frame is recorded."), Tone::plain}};
    return {{shown(frames.back()->body.text_or("description", "A frame without description")), Tone::plain}};
}

provenance::OwnershipChain chain_of(const CaseSnapshot& snapshot) {
    auto links = snapshot.of_kind("provenance_link");
    std::ranges::stable_sort(links, {}, [](const Record* r) { return r->body.number("order").value_or(0); });
    provenance::OwnershipChain chain;
    const auto date = [](const Record* r, std::string_view field) -> std::optional<provenance::Edtf> {
        const auto text = r->body.text(field);
        const auto parsed = text ? provenance::parse_edtf(*text) : Expected<provenance::Edtf>(fail("", ""));
        return parsed ? std::optional(*parsed) : std::nullopt;
    };
    for (const Record* record : links) {
        provenance::ChainLink link;
        const std::string role = record->body.text_or("role");
        link.owner = record->body.text_or("owner");
        link.kind = role == "dealer"     ? provenance::LinkKind::dealer
                    : role == "agent"    ? provenance::LinkKind::agent
                    : role == "saleroom" ? provenance::LinkKind::saleroom
                                         : provenance::LinkKind::owner;
        link.transfer = record->body.text_or("transfer");
        link.place = record->body.text_or("place");
        link.from = date(record, "from");
        link.to = date(record, "to");
        const std::string direct = record->body.text_or("direct_to_next");
        link.direct_to_next = direct == "yes"  ? provenance::DirectTransfer::yes
                              : direct == "no" ? provenance::DirectTransfer::no
                                               : provenance::DirectTransfer::unknown;
        const std::string doubt = record->body.text_or("doubt");
        link.doubt = doubt == "possibly"   ? provenance::Doubt::possibly
                     : doubt == "probably" ? provenance::Doubt::probably
                                           : provenance::Doubt::none;
        if (record->body.has("source")) link.notes.push_back({record->body.text_or("source"), ""});
        chain.push_back(std::move(link));
    }
    return chain;
}

Lines research_answer(const CaseSnapshot& snapshot, bool /*client_looks*/) {
    const provenance::OwnershipChain chain = chain_of(snapshot);
    if (chain.empty()) return {{tr("No owner is recorded yet."), Tone::plain}};
    Lines lines{{shown(provenance::statement(chain).chain), Tone::plain}};
    for (const provenance::ChainFinding& finding : provenance::findings(chain))
        lines.push_back({QStringLiteral("△ ") + shown(finding.text), Tone::warning});
    return lines;
}

}  // namespace

std::vector<AnswerLine> answer_of(Stage stage, const CaseSnapshot& snapshot, bool client_looks) {
    switch (stage) {
        case Stage::lot:
            return lot_answer(snapshot, client_looks);
        case Stage::ceiling:
            return ceiling_answer(snapshot, client_looks);
        case Stage::transit:
            return transit_answer(snapshot, client_looks);
        case Stage::survey:
            return survey_answer(snapshot, client_looks);
        case Stage::photographs:
            return photograph_answer(snapshot, client_looks);
        case Stage::trials:
            return trial_answer(snapshot, client_looks);
        case Stage::treatment:
            return treatment_answer(snapshot, client_looks);
        case Stage::structure:
            return structure_answer(snapshot, client_looks);
        case Stage::frame:
            return frame_answer(snapshot, client_looks);
        case Stage::research:
            return research_answer(snapshot, client_looks);
        case Stage::dossier:
            return {
                {tr("What leaves is decided by the reader: what is not named for him does not leave."), Tone::plain}};
    }
    return {};
}

std::vector<std::string_view> kinds_of(Stage stage) {
    switch (stage) {
        case Stage::lot:
            return {"lot", "viewing_note", "purchase", "deadline"};
        case Stage::ceiling:
            return {"ceiling", "cost_line"};
        case Stage::transit:
            return {"custody", "facing"};
        case Stage::survey:
            return {"survey", "finding", "face_frame"};
        case Stage::photographs:
            return {"photograph", "registration", "measurement"};
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
    }
    return {};
}

}  // namespace tedge::desk
