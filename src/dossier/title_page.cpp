#include "title_page.hpp"

#include <algorithm>

#include "picture_block.hpp"

namespace tedge::dossier::page {

namespace {

constexpr double top_edge = mm(20.0);
constexpr double tack_spacing = mm(8.0);
constexpr double tack_radius = mm(0.55);
constexpr double largest_picture = mm(128.0);

double height_of_imprint(const TitlePage& title_page, const Types& types) {
    return static_cast<double>(title_page.imprint.size()) * types.quiet.leading;
}

void put_imprint(PageFlow& flow, const TitlePage& title_page) {
    double y = frame.bottom() - height_of_imprint(title_page, flow.types());
    for (const auto& line : title_page.imprint) {
        const SetText text(line, flow.types().quiet, frame.width(), flow.device());
        flow.draw_plain([text, y](QPainter& painter) { text.draw(painter, QPointF(frame.left(), y), 0, 1); });
        y += flow.types().quiet.leading;
    }
}

void put_title_picture(PageFlow& flow, const TitlePage& title_page, double room) {
    const Picture& picture = *title_page.picture;
    const double aspect = static_cast<double>(picture.size.width_px) / picture.size.height_px;
    const double height = std::min({largest_picture, room, frame.width() / aspect});
    const QRectF target(frame.left(), flow.y(), height * aspect, height);
    flow.draw([&picture, target, types = &flow.types()](QPainter& painter) {
        return paint_picture(painter, picture, target, *types);
    });
    flow.advance(height + pt(5.0));
    if (!picture.caption.empty())
        flow.put(SetText(picture.caption, flow.types().caption, reading_width, flow.device()), frame.left());
}

}  // namespace

void draw_tacks(QPainter& painter, double y, const QColor& colour) {
    painter.fillRect(QRectF(frame.left(), y - pt(0.2), frame.width(), pt(0.4)), colour::rule);
    painter.setPen(Qt::NoPen);
    painter.setBrush(colour);
    const int count = static_cast<int>(frame.width() / tack_spacing);
    const double spacing = frame.width() / count;
    for (int i = 0; i < count; ++i)
        painter.drawEllipse(QPointF(frame.left() + (i + 0.5) * spacing, y), tack_radius, tack_radius);
    painter.setBrush(Qt::NoBrush);
}

void lay_out(PageFlow& flow, const TitlePage& title_page) {
    const auto& types = flow.types();
    flow.draw_plain([](QPainter& painter) { draw_tacks(painter, top_edge, colour::verdigris); });
    flow.put(SetText(title_page.kicker, types.kicker, frame.width(), flow.device()), frame.left());
    flow.advance(pt(10.0));
    flow.put(SetText(title_page.title, types.title, frame.width(), flow.device()), frame.left());
    flow.advance(pt(3.0));
    if (!title_page.subtitle.empty())
        flow.put(SetText(title_page.subtitle, types.subtitle, reading_width, flow.device()), frame.left());
    flow.advance(pt(18.0));
    double facts = 0.0;
    std::vector<SetText> lines;
    for (const auto& fact : title_page.facts) {
        lines.emplace_back(fact, types.body, reading_width, flow.device());
        facts += lines.back().height();
    }
    const double kept = facts + height_of_imprint(title_page, types) + pt(60.0);
    if (title_page.picture && flow.room() - kept > mm(25.0)) put_title_picture(flow, title_page, flow.room() - kept);
    flow.advance(pt(18.0));
    for (const auto& line : lines) flow.put(line, frame.left());
    put_imprint(flow, title_page);
}

void lay_out_short(PageFlow& flow, const TitlePage& title_page) {
    const auto& types = flow.types();
    flow.put(SetText(title_page.kicker, types.kicker, frame.width(), flow.device()), frame.left());
    flow.advance(pt(4.0));
    flow.put(SetText(title_page.title, types.section, frame.width(), flow.device()), frame.left());
    if (!title_page.subtitle.empty())
        flow.put(SetText(title_page.subtitle, types.body, frame.width(), flow.device()), frame.left());
    flow.advance(pt(4.0));
    for (const auto& fact : title_page.facts)
        flow.put(SetText(fact, types.body, frame.width(), flow.device()), frame.left());
    flow.advance(pt(8.0));
}

void lay_out_contents(PageFlow& flow, const std::vector<std::string>& sections,
                      const std::shared_ptr<const SectionPages>& pages) {
    const auto& types = flow.types();
    flow.new_page();
    flow.put(SetText("Contents", types.section, frame.width(), flow.device()), frame.left());
    flow.advance(pt(4.0));
    flow.rule(frame.left(), frame.width(), 0.5, colour::rule);
    flow.advance(pt(9.0));
    for (std::size_t i = 0; i < sections.size(); ++i) {
        Type numeral = types.body;
        numeral.colour = colour::verdigris;
        const SetText number(std::to_string(i + 1), numeral, mm(10.0), flow.device());
        const SetText text(sections[i], types.body, reading_width - mm(25.0), flow.device());
        flow.draw_plain([=, y = flow.y(), device = flow.device(), type = types.body](QPainter& painter) {
            number.draw(painter, QPointF(frame.left(), y));
            text.draw(painter, QPointF(frame.left() + mm(11.0), y), 0, 1);
            SetText(std::to_string(pages->at(i) + 1), type, mm(12.0), device, Align::right)
                .draw(painter, QPointF(frame.left() + reading_width - mm(12.0), y));
        });
        flow.advance(types.body.leading + pt(2.5));
        flow.rule(frame.left(), reading_width, 0.35, colour::rule);
        flow.advance(pt(2.5));
    }
    flow.gap(pt(12.0));
}

void draw_head_and_foot(QPainter& painter, const Document& document, const Types& types, int page, int page_count) {
    auto* device = painter.device();
    const double half = frame.width() / 2.0 - mm(4.0);
    const double head_y = top_edge - mm(5.0);
    SetText(document.running_head, types.running, half * 1.3, device)
        .draw(painter, QPointF(frame.left(), head_y), 0, 1);
    SetText(document.running_note, types.running, half * 0.7, device, Align::right)
        .draw(painter, QPointF(frame.right() - half * 0.7, head_y), 0, 1);
    draw_tacks(painter, top_edge + mm(1.0), colour::rule.darker(125));
    const std::string folio = std::to_string(page + 1) + " of " + std::to_string(page_count);
    SetText(folio, types.running, half, device, Align::right)
        .draw(painter, QPointF(frame.right() - half, frame.bottom() + mm(8.0)), 0, 1);
}

}  // namespace tedge::dossier::page
