#include "photographs/figure_words.hpp"

#include <algorithm>

#include "tedge/base/number_text.hpp"
#include "tedge/casebook/photograph_words.hpp"
#include "tedge/usecases/guessed_light.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using casebook::Record;
using imaging::ToleranceLine;
using usecases::PhotographFigure;
using usecases::PhotographFigures;

QString number(double value, int decimals) {
    return shown(format_fixed(value, decimals));
}

bool is_reported(const ToleranceLine& line) {
    return line.status.starts_with("as reported");
}

// "FADGI 2016 4-star (below 2)", "outside FADGI 2016".
QString level_of(const ToleranceLine& line) {
    const QString mark = is_reported(line) ? QStringLiteral("*") : QString();
    return (line.level ? shown(line.guideline + " " + *line.level)
                       : QObject::tr("outside %1").arg(shown(line.guideline))) +
           mark;
}

// One line for each figure, with what every guideline says of it.
QStringList levels(const std::vector<ToleranceLine>& lines) {
    QStringList told;
    for (auto first = lines.begin(); first != lines.end();) {
        const auto is_other = [&](const ToleranceLine& each) {
            return each.parameter != first->parameter || each.measured != first->measured;
        };
        const auto end = std::find_if(first, lines.end(), is_other);
        QStringList by;
        for (auto line = first; line != end; ++line) by << level_of(*line);
        const QString unit = shown(first->unit);
        told << QStringLiteral("%1 %2 %3: %4")
                    .arg(capital(shown(first->parameter)), number(first->measured, 2), unit,
                         by.join(QStringLiteral(" · ")));
        first = end;
    }
    return told;
}

QString sources_of(const std::vector<ToleranceLine>& lines) {
    QStringList told;
    for (const ToleranceLine& line : lines)
        told << QStringLiteral("%1\n    %2 (%3)").arg(shown(line.sentence), shown(line.source), shown(line.status));
    return told.join(u'\n');
}

FigureWords measured(const QString& text, const PhotographFigure& figure, bool with_note) {
    FigureWords words{QStringLiteral("✓ ") + text, levels(figure.tolerances), sources_of(figure.tolerances),
                      Tone::done};
    if (with_note && !figure.note.empty()) words.beside << shown(figure.note);
    return words;
}

FigureWords colour_words(const Record& photograph, const PhotographFigures& figures) {
    const std::string light = photograph.body.text_or("light");
    if (!casebook::shows_colour(light))
        return {QObject::tr("– Colour: light of this sort (%1) shows none").arg(spoken(light)), {}, {}, Tone::plain};
    if (!figures.colour) {
        const bool is_there = photograph.body.flag("has_chart");
        return {is_there ? QObject::tr("○ Colour: its chart is not measured") : QObject::tr("○ Colour: not measured"),
                {},
                {},
                Tone::plain};
    }
    QString text = QObject::tr("Colour true to ΔE00 %1 on average").arg(number(figures.colour->value, 2));
    if (const auto& patches = figures.colour->patches)
        text += QObject::tr(", 95 % below %1, at most %2 (%3)")
                    .arg(number(patches->p95, 2), number(patches->max, 2), shown(patches->worst));
    if (figures.colour_is_of_session) text += QObject::tr(", by the chart of its session");
    FigureWords words = measured(text, *figures.colour, false);
    if (figures.colour_is_overtaken) {
        words.text = QObject::tr("△ Colour: its chart was measured before this board was named; measure it again");
        words.tone = Tone::warning;
    }
    if (const std::string guessed = usecases::guessed_light_sentence(photograph, "this photograph"); !guessed.empty()) {
        words.beside.prepend(QStringLiteral("△ ") + shown(guessed + " " + std::string(usecases::confirm_light)));
        words.tone = Tone::warning;
    }
    return words;
}

FigureWords evenness_words(const PhotographFigures& figures) {
    if (!figures.evenness) return {QObject::tr("○ Light: no board says how even it was"), {}, {}, Tone::plain};
    return measured(
        QObject::tr("Light %1 % uneven, by the board of its session").arg(number(figures.evenness->value, 1)),
        *figures.evenness, true);
}

FigureWords sharpness_words(const PhotographFigures& figures) {
    if (!figures.sharpness) return {QObject::tr("○ Sharpness: not measured"), {}, {}, Tone::plain};
    return measured(
        QObject::tr("Sharp to %1 % of what its pixels could carry").arg(number(figures.sharpness->value, 0)),
        *figures.sharpness, true);
}

FigureWords scale_words(const PhotographFigures& figures) {
    if (!figures.scale) return {QObject::tr("○ Scale: not measured"), {}, {}, Tone::plain};
    const PhotographFigure& scale = *figures.scale;
    QString text = QObject::tr("Scale %1 px/mm").arg(number(scale.value, 2));
    if (scale.uncertainty && scale.value > 0)
        text += QObject::tr(", to %1 %").arg(number(100.0 * *scale.uncertainty / scale.value, 2));
    return measured(text, *figures.scale, true);
}

FigureWords noise_words(const PhotographFigures& figures) {
    if (!figures.noise) return {QObject::tr("○ Noise: not measured"), {}, {}, Tone::plain};
    return measured(QObject::tr("Noise L* %1, one standard deviation").arg(number(figures.noise->value, 2)),
                    *figures.noise, true);
}

// "○ Sharpness: 12 of 200 measured, 61 % to 84 %".
FigureWords counted_words(const QString& name, const QString& unit, int decimals, std::size_t of,
                          const std::vector<double>& values) {
    if (of == 0) return {QObject::tr("– %1: none of these shows it").arg(name), {}, {}, Tone::plain};
    const bool all = values.size() == of;
    FigureWords words;
    words.text = (all ? QStringLiteral("✓ ") : QStringLiteral("○ ")) +
                 QObject::tr("%1: %2 of %3 measured").arg(name).arg(values.size()).arg(of);
    words.tone = all ? Tone::done : Tone::plain;
    if (values.empty()) return words;
    const auto [least, most] = std::ranges::minmax(values);
    words.text += least == most
                      ? QObject::tr(", %1 %2").arg(number(least, decimals), unit)
                      : QObject::tr(", %1 to %2 %3").arg(number(least, decimals), number(most, decimals), unit);
    return words;
}

}  // namespace

PhotographWords words_of(const Record& photograph, const PhotographFigures& figures) {
    PhotographWords words{.colour = colour_words(photograph, figures),
                          .evenness = evenness_words(figures),
                          .sharpness = sharpness_words(figures),
                          .scale = scale_words(figures),
                          .noise = noise_words(figures),
                          .others = {}};
    for (const PhotographFigure& other : figures.others) {
        QString text = capital(shown(other.what)) + QStringLiteral(": ") + number(other.value, 2);
        if (other.uncertainty) text += QStringLiteral(" ± ") + number(*other.uncertainty, 2);
        words.others.push_back(measured(text + u' ' + shown(other.unit), other, true));
    }
    return words;
}

PhotographWords words_of(const std::vector<const Record*>& photographs, const FiguresById& figures) {
    std::size_t coloured = 0;
    std::vector<double> colours, lights, edges, scales, noises;
    for (const Record* photograph : photographs) {
        coloured += casebook::shows_colour(photograph->body.text_or("light")) ? 1 : 0;
        const auto known = figures.find(photograph->id);
        if (known == figures.end()) continue;
        const PhotographFigures& of = known->second;
        if (of.colour && !of.colour_is_overtaken) colours.push_back(of.colour->value);
        if (of.evenness) lights.push_back(of.evenness->value);
        if (of.sharpness) edges.push_back(of.sharpness->value);
        if (of.scale) scales.push_back(of.scale->value);
        if (of.noise) noises.push_back(of.noise->value);
    }
    const std::size_t all = photographs.size();
    return {.colour = counted_words(QObject::tr("Colour"), QStringLiteral("ΔE00"), 2, coloured, colours),
            .evenness = counted_words(QObject::tr("Evenness of the light"), QStringLiteral("%"), 1, all, lights),
            .sharpness = counted_words(QObject::tr("Sharpness"), QStringLiteral("%"), 0, all, edges),
            .scale = counted_words(QObject::tr("Scale"), QStringLiteral("px/mm"), 2, all, scales),
            .noise = counted_words(QObject::tr("Noise"), QStringLiteral("L*"), 2, all, noises),
            .others = {}};
}

}  // namespace tedge::desk
