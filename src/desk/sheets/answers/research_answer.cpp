#include "sheets/answers/answer.hpp"
#include "tedge/usecases/provenance.hpp"
#include "text.hpp"

namespace tedge::desk {

AnswerLines research_answer(const casebook::CaseSnapshot& snapshot) {
    const usecases::RecordedProvenance recorded = usecases::recorded_provenance(snapshot);
    if (recorded.chain.empty()) return {{QObject::tr("No owner is recorded yet.")}};
    AnswerLines lines{{shown(provenance::statement(recorded.chain).text())}};
    for (const provenance::ChainFinding& finding : recorded.findings)
        lines.push_back({QStringLiteral("△ ") + shown(finding.text), Tone::warning});
    return lines;
}

}  // namespace tedge::desk
