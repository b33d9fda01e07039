#include "text_blocks.hpp"

#include <algorithm>

namespace tedge::dossier::page {

namespace {

constexpr double key_width = mm(40.0);
constexpr double key_gap = pt(2.5);
constexpr std::size_t rows_together = 3;  // of a list, at least so many stand before a turn of the page and after it
const double list_kept_whole = frame.height() / 4.0;

// Lines of a text over as many pages as it takes.
void flow_lines(PageFlow& flow, const SetText& text, double x, const std::function<void(double)>& beside = {}) {
    int done = 0;
    while (done < text.lines()) {
        const int left = text.lines() - done;
        int fit = std::min(left, static_cast<int>(flow.room() / text.leading()));
        if (fit < left) fit = std::min(fit, left - least_lines_apart);
        if (fit < std::min(left, least_lines_apart) && !flow.at_top()) {
            flow.new_page();
            continue;
        }
        fit = std::max(fit, 1);
        if (beside) beside(fit * text.leading());
        flow.draw_plain(
            [text, at = QPointF(x, flow.y()), done, fit](QPainter& painter) { text.draw(painter, at, done, fit); });
        flow.advance(fit * text.leading());
        done += fit;
    }
}

const Type& type_of(const Types& types, int level) {
    return level == 1 ? types.section : level == 2 ? types.subsection : types.minor;
}

const Type& type_of(const Types& types, Voice voice) {
    return voice == Voice::lead ? types.lead : voice == Voice::quiet ? types.quiet : types.body;
}

void lay_out_section(PageFlow& flow, const Heading& heading, int number) {
    const auto& types = flow.types();
    const double indent = number > 0 ? mm(11.0) : 0.0;
    if (number > 0) {
        Type numeral = types.section;
        numeral.colour = colour::verdigris;
        const SetText figure(std::to_string(number), numeral, indent, flow.device());
        flow.draw_plain(
            [figure, at = QPointF(frame.left(), flow.y())](QPainter& painter) { figure.draw(painter, at); });
    }
    flow.put(SetText(heading.text, types.section, frame.width() - indent, flow.device()), frame.left() + indent);
    flow.advance(pt(4.0));
    flow.rule(frame.left(), frame.width(), 0.5, colour::rule);
    flow.advance(pt(9.0));
}

struct KeyRow {
    SetText label;
    SetText text;

    [[nodiscard]] double height(int most_lines) const {
        return std::max(label.height(), std::min(text.lines(), most_lines) * text.leading()) + key_gap;
    }
};

std::vector<KeyRow> key_rows_of(const PageFlow& flow, const KeyValues& list) {
    std::vector<KeyRow> rows;
    for (const auto& [key, value] : list.rows)
        rows.push_back({SetText(key, flow.types().label, key_width - mm(3.0), flow.device()),
                        SetText(value, flow.types().body, frame.width() - key_width, flow.device())});
    return rows;
}

// Of `count` rows, where of a long text three lines are enough to begin with.
double least_height(const std::vector<KeyRow>& rows, std::size_t first, std::size_t count) {
    double height = -key_gap;
    for (std::size_t i = first; i < std::min(rows.size(), first + count); ++i) height += rows[i].height(3);
    return height;
}

double room_of_begin(const std::vector<KeyRow>& rows) {
    double whole = -key_gap;
    for (const auto& row : rows) whole += row.height(row.text.lines());
    if (whole <= list_kept_whole) return std::max(0.0, whole);
    return least_height(rows, 0, rows.size() < 2 * rows_together ? rows.size() : rows_together);
}

}  // namespace

void lay_out(PageFlow& flow, const Heading& heading, int number, double room_below) {
    const Type& type = type_of(flow.types(), heading.level);
    const SetText text(heading.text, type, frame.width(), flow.device());
    flow.gap(heading.level == 1 ? pt(30.0) : heading.level == 2 ? pt(12.0) : pt(6.0));
    flow.need(text.height() + pt(heading.level == 1 ? 18.0 : 4.0) + room_below);
    flow.remember({heading.level, heading.text, flow.page(), flow.y()});
    if (heading.level == 1) {
        lay_out_section(flow, heading, number);
    } else {
        flow.put(text, frame.left());
        flow.advance(pt(heading.level == 2 ? 3.0 : 1.5));
    }
}

double room_to_begin(const PageFlow& flow, const Paragraph& paragraph) {
    const Type& type = type_of(flow.types(), paragraph.voice);
    const SetText text(paragraph.text, type, reading_width, flow.device());
    return (std::min(text.lines(), 3) + 0.5) * type.leading;
}

void lay_out(PageFlow& flow, const Paragraph& paragraph) {
    const Type& type = type_of(flow.types(), paragraph.voice);
    flow_lines(flow, SetText(paragraph.text, type, reading_width, flow.device()), frame.left());
    flow.gap(type.leading * 0.5);
}

double room_to_begin(const PageFlow& flow, const KeyValues& list) {
    return room_of_begin(key_rows_of(flow, list));
}

void lay_out(PageFlow& flow, const KeyValues& list) {
    const auto rows = key_rows_of(flow, list);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const auto& [label, text] = rows[i];
        const bool last_together = rows.size() > rows_together && i == rows.size() - rows_together;
        flow.need(i == 0 ? room_of_begin(rows) : least_height(rows, i, last_together ? rows_together : 1));
        flow.draw_plain(
            [label, at = QPointF(frame.left(), flow.y() + pt(0.6))](QPainter& painter) { label.draw(painter, at); });
        const int page = flow.page();
        const double bottom = flow.y() + label.height();
        flow_lines(flow, text, frame.left() + key_width);
        if (flow.page() == page) flow.advance(std::max(0.0, bottom - flow.y()));
        flow.gap(key_gap);
    }
    flow.gap(pt(6.0));
}

void lay_out(PageFlow& flow, const Note& note) {
    const auto& types = flow.types();
    const double indent = mm(5.0);
    const QColor bar = note.tone == Tone::plain ? colour::rule : colour::of(note.tone);
    const auto draw_bar = [&flow, bar](double height) {
        const QRectF strip(frame.left(), flow.y(), pt(2.0), height);
        flow.draw_plain([strip, bar](QPainter& painter) { painter.fillRect(strip, bar); });
    };
    flow.gap(pt(2.0));
    if (!note.title.empty()) {
        Type head = types.label;
        if (note.tone != Tone::plain) head.colour = bar;
        const SetText title(note.title, head, reading_width - indent, flow.device());
        flow.need(title.height() + least_lines_apart * types.body.leading);
        draw_bar(title.height());
        flow.put(title, frame.left() + indent);
    }
    flow_lines(flow, SetText(note.text, types.body, reading_width - indent, flow.device()), frame.left() + indent,
               draw_bar);
    flow.gap(pt(9.0));
}

}  // namespace tedge::dossier::page
