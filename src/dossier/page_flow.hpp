// Pages being filled from top to bottom. What is placed is only remembered; it is painted when all pages are known.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "set_text.hpp"

namespace tedge::dossier::page {

using Drawing = std::function<Expected<void>(QPainter&)>;

struct PlacedHeading {
    int level = 1;
    std::string text;
    int page = 0;    // from 0
    double y = 0.0;  // dots from the top of the paper
};

class PageFlow {
public:
    explicit PageFlow(QPaintDevice* device) : device_(device), types_(Types::make()) { new_page(); }

    [[nodiscard]] QPaintDevice* device() const { return device_; }
    [[nodiscard]] const Types& types() const { return types_; }

    [[nodiscard]] double y() const { return y_; }
    [[nodiscard]] double room() const { return frame.bottom() - y_; }
    [[nodiscard]] bool at_top() const { return y_ <= frame.top(); }
    [[nodiscard]] int page() const { return static_cast<int>(pages_.size()) - 1; }

    void new_page();
    void need(double wanted) {  // a new page unless there is so much room
        if (room() < wanted && !at_top()) new_page();
    }
    void advance(double height) { y_ += height; }
    void gap(double height) {  // white between blocks: none at the top of a page
        if (!at_top()) y_ += height;
    }

    void draw(Drawing drawing) { pages_.back().push_back(std::move(drawing)); }
    void draw_plain(std::function<void(QPainter&)> drawing);
    void put(const SetText& text, double x);  // here, and goes on below it
    void rule(double x, double rule_width, double thickness_pt, const QColor& colour);

    void remember(PlacedHeading heading) { headings_.push_back(std::move(heading)); }
    [[nodiscard]] const std::vector<PlacedHeading>& headings() const { return headings_; }
    [[nodiscard]] const std::vector<std::vector<Drawing>>& pages() const { return pages_; }

private:
    QPaintDevice* device_;
    Types types_;
    double y_ = 0.0;
    std::vector<std::vector<Drawing>> pages_;
    std::vector<PlacedHeading> headings_;
};

}  // namespace tedge::dossier::page
