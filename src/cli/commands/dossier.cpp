#include <fmt/format.h>

#include "command.hpp"
#include "gate_words.hpp"
#include "tedge/base/files.hpp"
#include "tedge/base/text.hpp"
#include "tedge/usecases/cases.hpp"
#include "tedge/usecases/dossiers.hpp"

namespace tedge::cli {

namespace {

Expected<Answer> write(Context& context, const Arguments& arguments) {
    const auto reader = said_by("for", usecases::parse_reader(*arguments.option("for")));
    if (!reader) return pass_on(reader);
    const auto acting = context.acting(arguments);
    if (!acting) return pass_on(acting);
    const auto case_id = usecases::find_case(acting->book, arguments.position("CASE"));
    if (!case_id) return pass_on(case_id);
    const auto overrides = overrides_of(arguments, *case_id);
    if (!overrides) return pass_on(overrides);
    const auto written = usecases::write_case_dossier(
        *acting, *case_id, *reader, path_from_utf8(*arguments.option("out")), context.progress(), *overrides);
    if (!written) return pass_on(written);
    Answer answer;
    answer.fields = {{"pdf", to_utf8(written->pdf)},
                     {"bag", to_utf8(written->bag)},
                     {"pages", written->pages},
                     {"warnings", written->warnings}};
    answer.lines = written->warnings;
    answer.lines.push_back(fmt::format("{}, {}.", to_utf8(written->pdf),
                                       counted(static_cast<std::size_t>(written->pages), "page", "pages")));
    answer.lines.push_back(to_utf8(written->bag));
    return answer;
}

}  // namespace

std::vector<Command> dossier_commands() {
    return {{"dossier",
             {{"DIR", "CASE"}, {"for", "out", "override", "name", "reason"}, {"for", "out"}},
             "Writes a dossier for one reader: a PDF for people and a bag for machines; --override as with record add.",
             write}};
}

}  // namespace tedge::cli
