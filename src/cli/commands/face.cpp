#include <fmt/format.h>

#include "command.hpp"
#include "tedge/base/number_text.hpp"
#include "tedge/casebook/frames.hpp"
#include "tedge/usecases/cases.hpp"
#include "values.hpp"

namespace tedge::cli {

namespace {

using nlohmann::json;

json frame_fields(const casebook::Record& frame) {
    const casebook::Body& body = frame.body;
    const auto joined = body.placement("new_from_old");
    return {{"id", to_text(frame.id)},
            {"face", body.text_or("face")},
            {"from", body.has("epoch_from") ? json(body.text_or("epoch_from")) : json(nullptr)},
            {"why", body.has("epoch_why") ? json(body.text_or("epoch_why")) : json(nullptr)},
            {"width_mm", body.number("width_mm").value_or(0)},
            {"height_mm", body.number("height_mm").value_or(0)},
            {"joined", joined.has_value()},
            {"error_mm", joined ? json(joined->error_mm) : json(nullptr)}};
}

std::string frame_line(const casebook::Record& frame) {
    const casebook::Body& body = frame.body;
    return fmt::format("{}  {}, {} × {} mm{}", to_text(frame.id), body.text_or("face"),
                       format_number(body.number("width_mm").value_or(0)),
                       format_number(body.number("height_mm").value_or(0)),
                       body.has("epoch_from") ? ", from " + body.text_or("epoch_from") : "");
}

Expected<Answer> list_faces(Context& context, const Arguments& arguments) {
    const auto snapshot = context.snapshot(arguments);
    if (!snapshot) return pass_on(snapshot);
    Answer answer;
    answer.fields["frames"] = json::array();
    for (const Face face : all_faces) {
        for (const casebook::Record* frame : usecases::frames_in_force(*snapshot, face)) {
            answer.fields["frames"].push_back(frame_fields(*frame));
            answer.lines.push_back(frame_line(*frame));
        }
    }
    return answer;
}

Expected<Answer> map(Context& context, const Arguments& arguments) {
    const auto points = parse_points("points", *arguments.option("points"));
    const auto from = id_at(arguments, "FROM");
    const auto to = id_at(arguments, "TO");
    if (!points) return pass_on(points);
    if (!from) return pass_on(from);
    if (!to) return pass_on(to);
    const auto book = context.book(arguments.position("DIR"));
    if (!book) return pass_on(book);
    const auto frame = (*book)->record(*from);
    if (!frame) return pass_on(frame);
    const auto snapshot = (*book)->snapshot(frame->case_id);
    if (!snapshot) return pass_on(snapshot);
    Answer answer;
    answer.fields["points"] = json::array();
    for (const PointMm& point : *points) {
        const auto place = Region::point(point);
        if (!place) return pass_on(place);
        const auto there = casebook::seen_in_frame(*snapshot, *place, *from, *to);
        if (!there) {
            return fail("face.not-joined", "Nothing says how the one frame lies on the other.",
                        "Lay a photograph of the newer one over a photograph of the older one.");
        }
        const PointMm now = there->label_point();
        answer.fields["points"].push_back({now.x_mm, now.y_mm});
        answer.lines.push_back(fmt::format("{},{}", format_fixed(now.x_mm, 3), format_fixed(now.y_mm, 3)));
    }
    return answer;
}

}  // namespace

std::vector<Command> face_commands() {
    return {
        {"face list", {{"DIR", "CASE"}, {}, {}}, "Lists the frames in millimetres of a picture's faces.", list_faces},
        {"face map",
         {{"DIR", "FROM", "TO"}, {"points"}, {"points"}},
         "Says where places of one frame lie in another: before and after lining, front and back.",
         map},
    };
}

}  // namespace tedge::cli
