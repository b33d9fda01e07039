#include <algorithm>

#include "sheets/answers/answer.hpp"
#include "text.hpp"

namespace tedge::desk {

using casebook::Record;

AnswerLines photograph_answer(const casebook::CaseSnapshot& snapshot) {
    const auto photographs = snapshot.of_kind("photograph");
    const auto placed =
        std::ranges::count_if(photographs, [](const Record* r) { return r->body.has("face_from_photo"); });
    AnswerLines lines{{QObject::tr("Photographs: %1, placed in millimetres: %2.").arg(photographs.size()).arg(placed)}};
    for (const Record* photo : photographs) {
        if (photo->body.has("damaged"))
            lines.push_back({QObject::tr("△ Damaged: %1").arg(shown(photo->body.text_or("damaged"))), Tone::warning});
    }
    for (const char* light : {"raking", "ultraviolet"}) {
        const bool there =
            std::ranges::any_of(photographs, [&](const Record* r) { return r->body.text_or("light") == light; });
        if (!there) lines.push_back({QObject::tr("△ None in %1 light.").arg(QLatin1String(light)), Tone::warning});
    }
    return lines;
}

}  // namespace tedge::desk
