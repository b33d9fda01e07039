#include "table_block.hpp"

#include <algorithm>

namespace tedge::dossier::page {

namespace {

constexpr double cell_gap = pt(8.0);
constexpr double row_padding = pt(3.0);
constexpr int lines_kept_whole = 10;  // a row of so few lines is not split
constexpr int most_header_lines = 6;  // so that a row always finds room below a header
const double table_kept_whole = frame.height() / 6.0;

using Row = std::vector<SetText>;

class TableSetter {
public:
    TableSetter(PageFlow& flow, const DataTable& table) : flow_(flow), table_(table) {
        measure_columns();
        std::vector<std::string> titles;
        for (const auto& column : table_.columns) titles.push_back(column.title);
        header_ = row_of(titles, flow_.types().cell_head);
        for (const auto& cells : table_.rows) rows_.push_back(row_of(cells, flow_.types().cell));
    }

    // All of a short table; of a long one as much of the first row as put_row() would not carry to the next page.
    [[nodiscard]] double room_to_begin() const {
        const double caption = table_.caption.empty() ? 0.0 : flow_.types().caption.leading + pt(2.0);
        const double above = caption + header_lines() * flow_.types().cell_head.leading + pt(2.0) + row_padding;
        double whole = above;
        for (const auto& row : rows_) {
            whole += height_of(row);
            if (whole > table_kept_whole) break;
        }
        if (whole <= table_kept_whole) return whole;
        const int first = lines_of(rows_.front());
        const int kept = first <= lines_kept_whole ? first : least_lines_apart;
        return above + row_padding + kept * flow_.types().cell.leading;
    }

    void set() {
        flow_.need(room_to_begin());
        if (!table_.caption.empty()) {
            flow_.put(SetText(table_.caption, flow_.types().caption, frame.width(), flow_.device()), frame.left());
            flow_.advance(pt(2.0));
        }
        put_header();
        for (std::size_t i = 0; i < rows_.size(); ++i) {
            if (i > 0 && i + 2 == rows_.size()) keep_last_two();
            put_row(rows_[i]);
        }
        flow_.gap(pt(12.0));
    }

private:
    void measure_columns() {
        double shares = 0.0;
        for (const auto& column : table_.columns) shares += column.share;
        const double gaps = cell_gap * static_cast<double>(table_.columns.size() - 1);
        double x = frame.left();
        for (const auto& column : table_.columns) {
            const double width = (frame.width() - gaps) * column.share / shares;
            lefts_.push_back(x);
            widths_.push_back(width);
            x += width + cell_gap;
        }
    }

    Row row_of(const std::vector<std::string>& cells, const Type& type) const {
        Row row;
        for (std::size_t i = 0; i < cells.size(); ++i)
            row.emplace_back(cells[i], type, widths_[i], flow_.device(), table_.columns[i].align);
        return row;
    }

    static int lines_of(const Row& row) {
        int lines = 1;
        for (const auto& cell : row) lines = std::max(lines, cell.lines());
        return lines;
    }

    void draw_lines(const Row& row, int first, int count, double leading) {
        for (std::size_t i = 0; i < row.size(); ++i)
            flow_.draw_plain([cell = row[i], at = QPointF(lefts_[i], flow_.y()), first, count](QPainter& painter) {
                cell.draw(painter, at, first, count);
            });
        flow_.advance(count * leading);
    }

    [[nodiscard]] double height_of(const Row& row) const {
        return lines_of(row) * flow_.types().cell.leading + 2.0 * row_padding;
    }

    // One row alone below a repeated header looks forgotten.
    void keep_last_two() {
        const Row& last = rows_.back();
        const Row& before = rows_[rows_.size() - 2];
        if (lines_of(last) > lines_kept_whole || lines_of(before) > lines_kept_whole) return;
        if (flow_.room() < height_of(before) + height_of(last)) next_page();
    }

    [[nodiscard]] int header_lines() const { return std::min(lines_of(header_), most_header_lines); }

    void put_header() {
        draw_lines(header_, 0, header_lines(), flow_.types().cell_head.leading);
        flow_.advance(pt(2.0));
        flow_.rule(frame.left(), frame.width(), 0.75, colour::ink);
        flow_.advance(row_padding);
    }

    void next_page() {
        flow_.new_page();
        put_header();
    }

    void put_row(const Row& row) {
        const double leading = flow_.types().cell.leading;
        const int lines = lines_of(row);
        int done = 0;
        while (done < lines) {
            const int left = lines - done;
            const int fit = static_cast<int>((flow_.room() - row_padding) / leading);
            if (fit < left && (left <= lines_kept_whole || fit < least_lines_apart)) {
                next_page();
                continue;
            }
            const int now = std::min(left, fit);
            draw_lines(row, done, now, leading);
            done += now;
            if (done < lines) next_page();
        }
        flow_.advance(row_padding);
        flow_.rule(frame.left(), frame.width(), 0.35, colour::rule);
        flow_.advance(row_padding);
    }

    PageFlow& flow_;
    const DataTable& table_;
    std::vector<double> lefts_;
    std::vector<double> widths_;
    Row header_;
    std::vector<Row> rows_;
};

}  // namespace

void lay_out(PageFlow& flow, const DataTable& table) {
    TableSetter(flow, table).set();
}

double room_to_begin(PageFlow& flow, const DataTable& table) {
    return TableSetter(flow, table).room_to_begin();
}

}  // namespace tedge::dossier::page
