#include <fmt/format.h>

#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/dossier/bag_verifier.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

json problem_list(const std::vector<dossier::BagProblem>& problems) {
    json list = json::array();
    for (const dossier::BagProblem& problem : problems) {
        list.push_back({{"code", problem.code}, {"path", problem.path}, {"message", problem.message}});
    }
    return list;
}

Expected<Answer> verify(Context& context, const Arguments& arguments) {
    const auto report = dossier::verify_bag(path_from_utf8(arguments.position("BAG")), context.progress());
    if (!report) return pass_on(report);
    Answer answer;
    answer.fields = {{"complete", report->complete},
                     {"valid", report->valid},
                     {"signed", report->signed_},
                     {"problems", problem_list(report->problems)},
                     {"warnings", problem_list(report->warnings)}};
    for (const dossier::BagProblem& problem : report->problems) answer.lines.push_back(problem.message);
    answer.lines.push_back(fmt::format("{}: {}.", counted(report->payload_files, "file", "files"),
                                       report->valid ? "complete and valid" : "not valid"));
    answer.code = report->valid ? ExitCode::done : ExitCode::refused;
    return answer;
}

}  // namespace

std::vector<Command> bag_commands() {
    return {{"bag verify", {{"BAG"}, {}}, "Says whether a bag is complete and unaltered (BagIt, RFC 8493).", verify}};
}

}  // namespace tedge::cli
