#include "picture_block.hpp"

#include <algorithm>
#include <cmath>

#include "picture_marks.hpp"
#include "raster_image.hpp"

namespace tedge::dossier::page {

namespace {

constexpr double gap_between = mm(6.0);
constexpr double print_px_per_inch = 300.0;
constexpr double smallest_share = 0.7;  // a row may shrink so far to stay on its page
constexpr double least_caption_width = mm(36.0);

double aspect_of(const Picture& picture) {
    return static_cast<double>(picture.size.width_px) / static_cast<double>(picture.size.height_px);
}

struct Cell {
    const Picture* picture;
    double x = 0.0;
    double width = 0.0;
    double height = 0.0;
    SetText caption;
    double scale_height = 0.0;

    [[nodiscard]] double below() const {
        return scale_height + (caption.lines() > 0 ? pt(4.0) + caption.height() : 0.0);
    }
};

// All at one height, as large as the width and the wanted height allow.
std::vector<Cell> cells_at_one_height(const PictureRow& row, double max_height) {
    double aspects = 0.0;
    for (const auto& picture : row.pictures) aspects += aspect_of(picture);
    const double gaps = gap_between * static_cast<double>(row.pictures.size() - 1);
    const double height = std::min(max_height, (frame.width() - gaps) / aspects);
    std::vector<Cell> cells;
    double x = frame.left();
    for (const auto& picture : row.pictures) {
        cells.push_back({&picture, x, height * aspect_of(picture), height, {}, 0.0});
        x += cells.back().width + gap_between;
    }
    return cells;
}

// Each into a column of equal width.
std::vector<Cell> cells_in_columns(const PictureRow& row, double max_height) {
    const double column = (frame.width() - gap_between * (row.columns - 1)) / row.columns;
    std::vector<Cell> cells;
    double x = frame.left();
    for (const auto& picture : row.pictures) {
        const double height = std::min(max_height, column / aspect_of(picture));
        cells.push_back({&picture, x, height * aspect_of(picture), height, {}, 0.0});
        x += column + gap_between;
    }
    return cells;
}

bool stands_in_columns(const PictureRow& row) {
    return row.columns > 0 && row.columns >= static_cast<int>(row.pictures.size());
}

std::vector<Cell> measure(const PageFlow& flow, const PictureRow& row, double max_height) {
    auto cells = stands_in_columns(row) ? cells_in_columns(row, max_height) : cells_at_one_height(row, max_height);
    const double column =
        stands_in_columns(row) ? (frame.width() - gap_between * (row.columns - 1)) / row.columns : 0.0;
    for (auto& cell : cells) {
        const bool alone = cells.size() == 1 && column == 0.0;
        const double caption_width =
            alone ? std::max(cell.width, reading_width) : std::max({cell.width, column, least_caption_width});
        if (!cell.picture->caption.empty())
            cell.caption = SetText(cell.picture->caption, flow.types().caption, caption_width, flow.device());
        if (cell.picture->px_per_mm) cell.scale_height = pt(11.0);
    }
    return cells;
}

double height_of(const std::vector<Cell>& cells) {
    double height = 0.0;
    for (const auto& cell : cells) height = std::max(height, cell.height + cell.below());
    return height;
}

double caption_height(const PageFlow& flow, const PictureRow& row) {
    if (row.caption.empty()) return 0.0;
    return pt(5.0) + SetText(row.caption, flow.types().caption, frame.width(), flow.device()).height();
}

double tallest_picture(const std::vector<Cell>& cells) {
    double height = 0.0;
    for (const auto& cell : cells) height = std::max(height, cell.height);
    return height;
}

// 1, 2 or 5 times a power of ten, at most a third of the picture's width.
double round_length_mm(double picture_width_mm) {
    const double most = picture_width_mm / 3.0;
    const double power = std::pow(10.0, std::floor(std::log10(most)));
    for (const double factor : {5.0, 2.0})
        if (factor * power <= most) return factor * power;
    return power;
}

std::string length_text(double length_mm) {
    QString text = QString::number(length_mm, 'g', 6);
    return text.toStdString() + " mm";
}

void put_scale_bar(PageFlow& flow, const Cell& cell, double y) {
    const double width_mm = cell.picture->size.width_px / *cell.picture->px_per_mm;
    const double length_mm = round_length_mm(width_mm);
    const double length = cell.width * length_mm / width_mm;
    const SetText label(length_text(length_mm), flow.types().caption, mm(30.0), flow.device());
    flow.draw_plain([=, x = cell.x](QPainter& painter) {
        painter.fillRect(QRectF(x, y + pt(6.0), length, pt(0.75)), colour::quiet);
        for (const double end : {x, x + length - pt(0.75)})
            painter.fillRect(QRectF(end, y + pt(4.0), pt(0.75), pt(4.75)), colour::quiet);
        label.draw(painter, QPointF(x + length + pt(5.0), y + pt(0.9)));
    });
}

void place(PageFlow& flow, const Cell& cell) {
    const QRectF target(cell.x, flow.y(), cell.width, cell.height);
    // Types live as long as the flow, and that outlives the painting.
    flow.draw([picture = cell.picture, target, types = &flow.types()](QPainter& painter) {
        return paint_picture(painter, *picture, target, *types);
    });
    double y = target.bottom();
    if (cell.scale_height > 0.0) put_scale_bar(flow, cell, y);
    y += cell.scale_height + pt(4.0);
    if (cell.caption.lines() > 0)
        flow.draw_plain(
            [caption = cell.caption, at = QPointF(cell.x, y)](QPainter& painter) { caption.draw(painter, at); });
}

}  // namespace

void lay_out(PageFlow& flow, const PictureRow& row) {
    const double below_row = caption_height(flow, row);
    auto cells = measure(flow, row, mm(row.max_height_mm));
    const double excess = height_of(cells) + below_row - flow.room();
    const double tallest = tallest_picture(cells);
    if (excess > 0.0 && (tallest - excess >= smallest_share * tallest)) {
        cells = measure(flow, row, tallest - excess);
    } else if (excess > 0.0) {
        if (!flow.at_top()) flow.new_page();
        const double captions = height_of(cells) - tallest;
        const double most = std::max(mm(20.0), flow.room() - captions - below_row);
        cells = measure(flow, row, std::min(mm(row.max_height_mm), most));
    }
    const double height = height_of(cells);
    for (const auto& cell : cells) place(flow, cell);
    flow.advance(height);
    if (!row.caption.empty()) {
        flow.advance(pt(5.0));
        flow.put(SetText(row.caption, flow.types().caption, frame.width(), flow.device()), frame.left());
    }
    flow.gap(pt(14.0));
}

double room_to_begin(const PageFlow& flow, const PictureRow& row) {
    const auto cells = measure(flow, row, mm(row.max_height_mm));
    return height_of(cells) + caption_height(flow, row) - (1.0 - smallest_share) * tallest_picture(cells);
}

Expected<void> paint_picture(QPainter& painter, const Picture& picture, const QRectF& target, const Types& types) {
    const double longest_inch = std::max(target.width(), target.height()) / dots_per_inch;
    const int longest_px = static_cast<int>(std::ceil(longest_inch * print_px_per_inch));
    const auto pixels = picture.pixels(longest_px);
    if (!pixels) return pass_on(pixels);
    if (pixels->empty())
        return fail("pdf.bad-document", "A picture of the document came without pixels.", "Check the photograph.");
    painter.drawImage(target, image_from(*pixels));
    for (const auto& mark : picture.marks) draw_outline(painter, mark, picture.size, target);
    for (const auto& mark : picture.marks) draw_label(painter, mark, picture.size, target, types);
    return {};
}

}  // namespace tedge::dossier::page
