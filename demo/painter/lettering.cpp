#include "lettering.hpp"

#include <cmath>

#include "random.hpp"

namespace tedge::painter {
namespace {

// Each letter on a field four wide and six high (capital height), drawn for this program. Pairs of figures are x and y
// from the base line up; a blank lifts the pen; "a" stands for 10 in y's place below the line: a = -1, b = -2.
struct Glyph {
    char letter;
    std::string_view strokes;
    double width;
};

constexpr Glyph glyphs[] = {
    {'A', "002640 1232", 4},
    {'B', "000626353423 0323 2332312000", 3.5},
    {'C', "4536160501102041", 4},
    {'D', "00062635413020 0020", 4},
    {'E', "46060040 0333", 3.8},
    {'F', "460600 0333", 3.6},
    {'G', "45361605011030414323", 4},
    {'H', "0006 4046 0343", 4},
    {'I', "1016", 2},
    {'J', "36311000 01", 3.2},
    {'K', "0006 4603 1440", 4},
    {'L', "060040", 3.6},
    {'M', "0006234640", 4.4},
    {'N', "00064046", 4},
    {'O', "163645413010010516", 4},
    {'P', "000626353433 0323", 3.4},
    {'Q', "163645413010010516 2240", 4},
    {'R', "000626353423 0323 2340", 3.8},
    {'S', "4536160504133342413010", 4},
    {'T', "0646 2620", 4},
    {'U', "060110304146", 4},
    {'V', "062046", 4},
    {'W', "0610243046", 4.6},
    {'X', "0046 0640", 4},
    {'Y', "062346 2320", 4},
    {'Z', "06460040", 4},
    {'a', "3333140302011021313430", 3.4},
    {'b', "060010203132231303", 3.2},
    {'c', "3323130201102031", 3.1},
    {'d', "3630 332313020110203031", 3.3},
    {'e', "0232332313020110203031", 3.2},
    {'f', "36261510 0434", 2.6},
    {'g', "333a2b1b0b 332313020110203132", 3.3},
    {'h', "0006 0313243330", 3.2},
    {'i', "1013 1516", 1.8},
    {'j', "131a0b 1516", 1.8},
    {'k', "0006 3301 1230", 3},
    {'l', "1611102021", 2},
    {'m', "0003 021323222120 2233434240", 4.4},
    {'n', "0004 0313243330", 3.2},
    {'o', "1323323120100102131323", 3.2},
    {'p', "0b03 021323323120100001", 3.3},
    {'q', "3b33 332313020110203031", 3.3},
    {'r', "0003 02132333", 2.6},
    {'s', "33231302122231201000", 3},
    {'t', "1511102031 0434", 2.6},
    {'u', "030110203033", 3.2},
    {'v', "031033", 3},
    {'w', "0310223043", 4},
    {'x', "0033 0330", 3},
    {'y', "0310 331b0b", 3},
    {'z', "03330030", 3},
    {'0', "163645413010010516", 4},
    {'1', "052620", 3},
    {'2', "0516364534000040", 4},
    {'3', "0516364534233342413010", 4},
    {'4', "30360242", 4},
    {'5', "4606034342413010", 4},
    {'6', "364501104142330301", 4},
    {'7', "064610", 4},
    {'8', "1636453423130405161605133342413010011203", 4},
    {'9', "404535160504133343", 4},
    {'.', "1011", 2},
    {',', "111a", 2},
    {'-', "0333", 3.4},
    {'&', "4015061635010010305243", 4.2},
    {'/', "0046", 3.6},
    {'\'', "1516", 1.6},
    {':', "1011 1314", 2},
};

const Glyph* find(char letter) {
    for (const Glyph& glyph : glyphs)
        if (glyph.letter == letter) return &glyph;
    return nullptr;
}

double height_of(char sign) {
    if (sign == 'a') return -1.0;
    if (sign == 'b') return -2.0;
    return static_cast<double>(sign - '0');
}

// The corners of one stroke, with points between them on the rounded way, as a pen would go.
Line rounded(const Line& corners) {
    if (corners.size() < 3) return corners;
    Line line{corners.front()};
    for (std::size_t i = 1; i + 1 < corners.size(); ++i) {
        const PointMm& before = corners[i - 1];
        const PointMm& at = corners[i];
        const PointMm& after = corners[i + 1];
        line.push_back({at.x_mm + 0.3 * (before.x_mm - at.x_mm), at.y_mm + 0.3 * (before.y_mm - at.y_mm)});
        line.push_back({at.x_mm + 0.08 * (before.x_mm + after.x_mm - 2.0 * at.x_mm),
                        at.y_mm + 0.08 * (before.y_mm + after.y_mm - 2.0 * at.y_mm)});
        line.push_back({at.x_mm + 0.3 * (after.x_mm - at.x_mm), at.y_mm + 0.3 * (after.y_mm - at.y_mm)});
    }
    line.push_back(corners.back());
    return line;
}

class Pen {
public:
    Pen(PointMm start, const Hand& hand)
        : start_(start),
          hand_(hand),
          dice_(hand.seed, 5U),
          unit_(hand.height_mm / 6.0),
          cosine_(std::cos(hand.turn_deg * 3.14159265358979 / 180.0)),
          sine_(std::sin(hand.turn_deg * 3.14159265358979 / 180.0)) {}

    void letter(const Glyph& glyph, double at, std::vector<Line>& lines) {
        Line corners;
        for (std::size_t i = 0; i <= glyph.strokes.size();) {
            const bool lift = i == glyph.strokes.size() || glyph.strokes[i] == ' ';
            if (lift) {
                if (corners.size() > 1) lines.push_back(rounded(corners));
                corners.clear();
                ++i;
                continue;
            }
            corners.push_back(placed(at + static_cast<double>(glyph.strokes[i] - '0') * unit_,
                                     height_of(glyph.strokes[i + 1]) * unit_));
            i += 2;
        }
    }

private:
    PointMm placed(double along, double up) {
        const double shake = hand_.tremor * hand_.height_mm;
        const double x = along + hand_.slant * up + shake * static_cast<double>(dice_.normal());
        const double y = -up + shake * static_cast<double>(dice_.normal());
        return {start_.x_mm + x * cosine_ - y * sine_, start_.y_mm + x * sine_ + y * cosine_};
    }

    PointMm start_;
    const Hand& hand_;
    Dice dice_;
    double unit_;
    double cosine_;
    double sine_;
};

double advance(char letter, const Hand& hand) {
    const Glyph* glyph = find(letter);
    return ((glyph != nullptr ? glyph->width : 2.4) + 1.3 * hand.spacing) * hand.height_mm / 6.0;
}

}  // namespace

std::vector<Line> written(std::string_view text, PointMm start, const Hand& hand) {
    std::vector<Line> lines;
    Pen pen(start, hand);
    double at = 0.0;
    for (const char letter : text) {
        if (const Glyph* glyph = find(letter); glyph != nullptr) pen.letter(*glyph, at, lines);
        at += advance(letter, hand);
    }
    return lines;
}

double width_of(std::string_view text, const Hand& hand) {
    double width = 0.0;
    for (const char letter : text) width += advance(letter, hand);
    return width;
}

}  // namespace tedge::painter
