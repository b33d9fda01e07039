#include "tedge/dossier/card.hpp"

#include <fmt/format.h>

#include <QBuffer>
#include <QImage>
#include <QPageLayout>
#include <QPageSize>
#include <QPdfWriter>
#include <algorithm>
#include <array>
#include <cmath>

#include "pdf_finishing.hpp"
#include "set_text.hpp"

namespace tedge::dossier {

namespace {

using page::mm;
using page::pt;
using page::SetText;

// A6, ISO 216.
constexpr double card_width_mm = 105.0;
constexpr double card_height_mm = 148.0;
const QRectF card_frame(mm(7.0), mm(7.0), mm(card_width_mm - 14.0), mm(card_height_mm - 14.0));
constexpr int png_dots_per_inch = 300;

struct CardColours {
    QColor ground, ink, quiet, rule, mark, caution, closed;
};

// On the dark ground letters are warm and not full white: a glare in a dark room is seen by the neighbours.
const CardColours& colours_of(CardGround ground) {
    static const CardColours light{QColor(0xFF, 0xFF, 0xFF), QColor(0x16, 0x18, 0x1B), QColor(0x4A, 0x4D, 0x50),
                                   QColor(0xB8, 0xB4, 0xAC), QColor(0x1F, 0x5C, 0x4F), QColor(0x7A, 0x4B, 0x08),
                                   QColor(0x8A, 0x22, 0x30)};
    static const CardColours dark{QColor(0x0C, 0x0D, 0x0E), QColor(0xE8, 0xD9, 0xB8), QColor(0xB9, 0xAD, 0x93),
                                  QColor(0x4A, 0x45, 0x3A), QColor(0x8F, 0xD0, 0xBE), QColor(0xE6, 0xB0, 0x5C),
                                  QColor(0xF0, 0x9A, 0xA4)};
    return ground == CardGround::dark ? dark : light;
}

// Sizes at full size, in points; all shrink by one factor together.
struct CardSizes {
    double large, value, label, cell, note;
};

CardSizes sizes_of(CardType type, double factor) {
    CardSizes sizes = type == CardType::at_arms_length ? CardSizes{40.0, 18.0, 13.0, 21.0, 14.0}
                                                       : CardSizes{24.0, 12.0, 9.5, 12.0, 10.5};
    const double least = least_card_type_pt(type);
    for (double* size : {&sizes.large, &sizes.value, &sizes.label, &sizes.cell, &sizes.note})
        *size = std::max(least, *size * factor);
    return sizes;
}

page::Type card_type(double size_pt, bool bold, const QColor& colour) {
    QFont font(QStringLiteral("Open Sans"));
    font.setPixelSize(static_cast<int>(std::lround(pt(size_pt))));
    font.setWeight(bold ? QFont::DemiBold : QFont::Normal);
    font.setHintingPreference(QFont::PreferNoHinting);
    return {font, pt(size_pt * 1.28), colour};
}

// Sets one side from the top down; without a painter it only measures.
class CardSetter {
public:
    CardSetter(QPaintDevice* device, const CardSizes& sizes, const CardColours& colours)
        : device_(device), sizes_(sizes), colours_(colours) {}

    // Whether it fits: what is set ends above the lower margin, and no cell of a table is broken.
    bool set(const CardSide& side, QPainter* painter) {
        painter_ = painter;
        y_ = card_frame.top();
        whole_ = true;
        for (const CardPart& part : side.parts) {
            std::visit([this](const auto& each) { put(each); }, part);
            y_ += pt(sizes_.label * 0.45);
        }
        return whole_ && y_ <= card_frame.bottom() + pt(sizes_.label * 0.45);
    }

private:
    void draw(const SetText& text, double x) {
        if (painter_ != nullptr) text.draw(*painter_, QPointF(x, y_));
    }

    void fill(const QRectF& box, const QColor& colour) {
        if (painter_ != nullptr) painter_->fillRect(box, colour);
    }

    void put(const CardFact& fact) {
        if (!fact.label.empty()) {
            const SetText label(fact.label, card_type(sizes_.label, false, colours_.quiet), card_frame.width(),
                                device_);
            draw(label, card_frame.left());
            y_ += label.height();
        }
        const double size = fact.large ? sizes_.large : sizes_.value;
        const SetText value(fact.value, card_type(size, fact.large, colours_.ink), card_frame.width(), device_);
        // The figures the card is for stand on one line, whatever else becomes small.
        if (fact.large && value.lines() > 1) whole_ = false;
        draw(value, card_frame.left());
        y_ += value.height();
    }

    void put(const CardNote& note) {
        const QColor colour = note.tone == Tone::closed    ? colours_.closed
                              : note.tone == Tone::caution ? colours_.caution
                                                           : colours_.ink;
        const SetText text(note.text, card_type(sizes_.note, note.tone != Tone::plain, colour), card_frame.width(),
                           device_);
        draw(text, card_frame.left());
        y_ += text.height();
    }

    void put(const CardTable& table) {
        double shares = 0.0;
        for (const Column& column : table.columns) shares += column.share;
        const bool has_head =
            std::ranges::any_of(table.columns, [](const Column& column) { return !column.title.empty(); });
        if (has_head) {
            std::vector<std::string> titles;
            for (const Column& column : table.columns) titles.push_back(column.title);
            put_row(table, titles, shares, sizes_.label, colours_.quiet, -2);
            fill(QRectF(card_frame.left(), y_, card_frame.width(), pt(0.6)), colours_.rule);
        }
        for (std::size_t i = 0; i < table.rows.size(); ++i)
            put_row(table, table.rows[i], shares, sizes_.cell, colours_.ink, static_cast<int>(i));
    }

    void put_row(const CardTable& table, const std::vector<std::string>& cells, double shares, double size_pt,
                 const QColor& ink, int row) {
        double x = card_frame.left();
        double height = 0.0;
        for (std::size_t i = 0; i < table.columns.size() && i < cells.size(); ++i) {
            const double width = card_frame.width() * table.columns[i].share / shares;
            const bool marked = row == table.marked_row && row >= 0 &&
                                (table.marked_column < 0 || table.marked_column == static_cast<int>(i));
            const SetText text(cells[i], card_type(size_pt, marked, marked ? colours_.mark : ink), width - mm(1.2),
                               device_, table.columns[i].align);
            if (row >= 0 && text.lines() > 1) whole_ = false;
            draw(text, x);
            if (marked) fill(QRectF(x, y_ + text.height() - pt(0.5), width - mm(1.2), pt(1.4)), colours_.mark);
            height = std::max(height, text.height());
            x += width;
        }
        y_ += height + pt(size_pt * 0.12);
    }

    QPaintDevice* device_;
    CardSizes sizes_;
    const CardColours& colours_;
    QPainter* painter_ = nullptr;
    double y_ = 0.0;
    bool whole_ = true;
};

// The largest sizes at which the side fits. Errors: card.too-full.
Expected<CardSizes> fitting_sizes(const Card& card, std::size_t side, QPaintDevice* device) {
    const CardColours& colours = colours_of(CardGround::light);
    for (double factor = 1.0; factor > 0.34; factor -= 0.03) {
        const CardSizes sizes = sizes_of(card.type, factor);
        if (CardSetter(device, sizes, colours).set(card.sides[side], nullptr)) return sizes;
    }
    return fail("card.too-full", fmt::format("Side {} of the card holds more than can be read on it.", side + 1),
                "Shorten the name of the sale, or of what the plan lists.", {{"side", std::to_string(side + 1)}});
}

Expected<void> check_card(const Card& card) {
    if (card.sides.empty()) return fail("card.no-side", "There is nothing on the card.", "Please report this.");
    return page::check_fonts();
}

void paint_side(QPainter& painter, QPaintDevice* device, const CardSide& side, const CardSizes& sizes,
                CardGround ground) {
    const CardColours& colours = colours_of(ground);
    painter.fillRect(QRectF(0.0, 0.0, mm(card_width_mm), mm(card_height_mm)), colours.ground);
    static_cast<void>(CardSetter(device, sizes, colours).set(side, &painter));
}

double linear_channel(double encoded) {
    return encoded <= 0.03928 ? encoded / 12.92 : std::pow((encoded + 0.055) / 1.055, 2.4);
}

double relative_luminance(const QColor& colour) {
    return 0.2126 * linear_channel(colour.redF()) + 0.7152 * linear_channel(colour.greenF()) +
           0.0722 * linear_channel(colour.blueF());
}

}  // namespace

Expected<std::string> card_pdf(const Card& card, CardGround ground, Instant now) {
    const auto turn = page::take_turn();
    if (auto good = check_card(card); !good) return pass_on(good);
    QBuffer buffer;
    buffer.open(QIODevice::WriteOnly);
    {
        QPdfWriter writer(&buffer);
        writer.setPdfVersion(QPagedPaintDevice::PdfVersion_A1b);
        writer.setResolution(page::dots_per_inch);
        writer.setPageLayout(QPageLayout(QPageSize(QPageSize::A6), QPageLayout::Portrait, QMarginsF(0, 0, 0, 0)));
        writer.setTitle(QString::fromStdString(card.title));
        writer.setCreator(QStringLiteral("Tacking Edge"));
        QPainter painter;
        for (std::size_t i = 0; i < card.sides.size(); ++i) {
            const auto sizes = fitting_sizes(card, i, &writer);
            if (!sizes) return pass_on(sizes);
            if (i == 0) {
                painter.begin(&writer);
            } else {
                writer.newPage();
            }
            paint_side(painter, &writer, card.sides[i], *sizes, ground);
        }
    }
    return finish_pdf(buffer.data().toStdString(), card.title, "en-GB", {}, now);
}

Expected<std::vector<std::string>> card_pngs(const Card& card, CardGround ground) {
    const auto turn = page::take_turn();
    if (auto good = check_card(card); !good) return pass_on(good);
    std::vector<std::string> pngs;
    for (std::size_t i = 0; i < card.sides.size(); ++i) {
        QImage image(static_cast<int>(std::lround(card_width_mm * png_dots_per_inch / 25.4)),
                     static_cast<int>(std::lround(card_height_mm * png_dots_per_inch / 25.4)), QImage::Format_RGB32);
        image.setDotsPerMeterX(static_cast<int>(std::lround(png_dots_per_inch / 0.0254)));
        image.setDotsPerMeterY(static_cast<int>(std::lround(png_dots_per_inch / 0.0254)));
        const auto sizes = fitting_sizes(card, i, &image);
        if (!sizes) return pass_on(sizes);
        {
            QPainter painter(&image);
            painter.setRenderHints(QPainter::Antialiasing | QPainter::TextAntialiasing);
            const double scale = static_cast<double>(png_dots_per_inch) / page::dots_per_inch;
            painter.scale(scale, scale);
            paint_side(painter, &image, card.sides[i], *sizes, ground);
        }
        QBuffer buffer;
        buffer.open(QIODevice::WriteOnly);
        if (!image.save(&buffer, "PNG"))
            return fail("picture.unwritable", "The card cannot be written as a picture.", "Take the PDF instead.");
        pngs.push_back(buffer.data().toStdString());
    }
    return pngs;
}

double least_contrast(CardGround ground) {
    const CardColours& colours = colours_of(ground);
    double least = 21.0;
    for (const QColor& text : {colours.ink, colours.quiet, colours.mark, colours.caution, colours.closed}) {
        const double one = relative_luminance(text);
        const double other = relative_luminance(colours.ground);
        least = std::min(least, (std::max(one, other) + 0.05) / (std::min(one, other) + 0.05));
    }
    return least;
}

}  // namespace tedge::dossier
