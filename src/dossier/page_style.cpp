#include "page_style.hpp"

#include <QFontDatabase>
#include <cmath>

namespace tedge::dossier::page {

namespace {

const QString family = QStringLiteral("Open Sans");

Type type(double size_pt, double leading_pt, QFont::Weight weight, const QColor& colour,
          double spacing_percent = 100.0) {
    QFont font(family);
    font.setPixelSize(static_cast<int>(std::lround(pt(size_pt))));
    font.setWeight(weight);
    font.setHintingPreference(QFont::PreferNoHinting);
    font.setLetterSpacing(QFont::PercentageSpacing, spacing_percent);
    return {font, pt(leading_pt), colour};
}

}  // namespace

QColor colour::of(Tone tone) {
    switch (tone) {
        case Tone::plain:
            return verdigris;
        case Tone::caution:
            return ochre;
        case Tone::closed:
            return madder;
    }
    return ink;
}

Types Types::make() {
    Types types;
    types.title = type(27.0, 33.0, QFont::Light, colour::ink);
    types.subtitle = type(13.0, 19.0, QFont::Normal, colour::ink);
    types.kicker = type(8.5, 13.0, QFont::DemiBold, colour::verdigris, 106.0);
    types.section = type(18.0, 24.0, QFont::Light, colour::ink);
    types.subsection = type(11.0, 16.0, QFont::DemiBold, colour::ink);
    types.minor = type(9.25, 14.0, QFont::DemiBold, colour::quiet);
    types.body = type(9.25, 14.0, QFont::Normal, colour::ink);
    types.lead = type(11.5, 17.5, QFont::Normal, colour::ink);
    types.quiet = type(8.0, 11.5, QFont::Normal, colour::quiet);
    types.label = type(8.25, 13.0, QFont::DemiBold, colour::quiet);
    types.cell = type(8.25, 12.0, QFont::Normal, colour::ink);
    types.cell_head = type(7.5, 11.0, QFont::DemiBold, colour::quiet);
    types.caption = type(7.75, 11.0, QFont::Normal, colour::quiet);
    types.running = type(7.5, 11.0, QFont::Normal, colour::quiet);
    types.disc = type(6.5, 8.0, QFont::Bold, Qt::white);
    return types;
}

std::unique_lock<std::mutex> take_turn() {
    static std::mutex turn;
    return std::unique_lock(turn);
}

Expected<void> check_fonts() {
    if (QFontDatabase::families().contains(family)) return {};
    return fail("pdf.no-font", "The typeface Open Sans is not installed, and a dossier must carry its own letters.",
                "Install it (on Debian: the package fonts-open-sans).");
}

}  // namespace tedge::dossier::page
