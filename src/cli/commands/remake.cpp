// A picture made from photographs made again, to see whether it is what its record says.
#include <fmt/format.h>

#include "command.hpp"
#include "tedge/base/files.hpp"
#include "tedge/usecases/remake_picture.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

Expected<Answer> remake(Context& context, const Arguments& arguments) {
    const auto picture = id_at(arguments, "PICTURE");
    if (!picture) return pass_on(picture);
    // Looking asks for no author.
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto made = usecases::remake_picture(**book, *picture, context.progress());
    if (!made) return pass_on(made);
    if (const auto out = arguments.option("out"))
        if (auto written = write_file_durably(path_from_utf8(*out), made->file); !written) return pass_on(written);
    Answer answer;
    answer.fields = {{"identical", made->identical}, {"sha256", made->sha256}, {"id", to_text(*picture)}};
    answer.lines = {made->identical
                        ? "Made again from its recipe and the originals: the same picture, to the byte."
                        : "Made again from its recipe and the originals it differs from the one that is kept: made by "
                          "another version of the program or its libraries, or not what its record says."};
    if (!made->identical) answer.code = ExitCode::not_to_be_trusted;
    return answer;
}

}  // namespace

std::vector<Command> remake_commands() {
    return {
        {"photograph remake",
         {{"DIR", "PICTURE"}, {"out"}, {}, {}, {"out"}},
         "Makes a kept crack map, difference or other picture again from its recipe, and says whether it is the same.",
         remake}};
}

}  // namespace tedge::cli
