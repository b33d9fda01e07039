#include "ceiling/ceiling_words.hpp"

#include "table_words.hpp"
#include "tedge/base/number_text.hpp"
#include "text.hpp"

namespace tedge::desk {

namespace {

using money::Ceiling;

QString money_text(const Money& money) {
    return shown(to_display_text(money));
}

QString percent_text(double share) {
    return QObject::tr("%1 %").arg(shown(format_fixed(100 * share, 0)));
}

QString ceiling_words(const QString& name, const std::optional<Ceiling>& ceiling, bool binds) {
    if (!ceiling) return {};
    const QString words =
        QObject::tr("%1: hammer up to %2, bid %3").arg(name, money_text(ceiling->hammer), money_text(ceiling->bid));
    const QString why = ceiling->reason ? QStringLiteral(" — ") + shown(ceiling->reason->text) : QString();
    return words + (binds ? QObject::tr(" ← binds") : QString()) + why + u'\n';
}

QString remarks_html(const std::vector<money::Remark>& remarks) {
    QString out;
    for (const money::Remark& remark : remarks) out += QStringLiteral("<br>△ ") + shown(remark.text).toHtmlEscaped();
    return out;
}

}  // namespace

QString report_words(const money::CeilingReport& report) {
    using money::Limit;
    QString text = ceiling_words(QObject::tr("For the profit wanted"), report.target, report.binding == Limit::target) +
                   ceiling_words(QObject::tr("For the risk accepted"), report.risk, report.binding == Limit::risk) +
                   ceiling_words(QObject::tr("For the cash there is"), report.cash, report.binding == Limit::cash);
    if (report.at_bid) {
        const money::ProfitAtHammer& at = *report.at_bid;
        text += QObject::tr("At %1: all-in %2, expected profit %3, chance of loss %4")
                    .arg(money_text(at.hammer), money_text(at.all_in), money_text(at.expected_profit),
                         percent_text(at.loss_probability));
    }
    for (const money::Remark& remark : report.remarks) text += QStringLiteral("\n△ ") + shown(remark.text);
    return text.trimmed();
}

QString report_headline(const money::CeilingReport& report) {
    using money::Limit;
    if (!report.bid) return QObject::tr("As typed, nothing limits the bid.");
    const QString why = report.binding == Limit::target ? QObject::tr("the profit wanted")
                        : report.binding == Limit::risk ? QObject::tr("the risk accepted")
                                                        : QObject::tr("the cash there is");
    if (report.bid->minor == 0) return QObject::tr("As typed: no bid, for %1.").arg(why);
    const QString all_in =
        report.at_bid ? QObject::tr(", all-in %1").arg(money_text(report.at_bid->all_in)) : QString();
    return QObject::tr("As typed: bid up to %1%2, for %3.").arg(money_text(*report.bid), all_in, why);
}

// One sentence for all that the same unseen things move: chances in per cent, costs by their high value.
QString unseen_words(const std::vector<usecases::Widening>& widened, const Currency& currency) {
    const auto figure = [&](const usecases::Widening& one, const std::string& text) {
        if (one.field.ends_with(".probability"))
            return QObject::tr("%1 %").arg(shown(format_fixed(100 * parse_number(text).value_or(0.0), 1)));
        const auto amount = parse_money(text, currency);
        return amount ? money_text(*amount) : shown(text);
    };
    QStringList lines;
    for (std::size_t i = 0; i < widened.size();) {
        QStringList moved;
        const std::string& because = widened[i].because;
        for (; i < widened.size() && widened[i].because == because; ++i)
            moved << QObject::tr("%1 %2 becomes %3")
                         .arg(shown(widened[i].name), figure(widened[i], widened[i].before),
                              figure(widened[i], widened[i].after));
        lines << QStringLiteral("△ ") + capital(moved.join(QStringLiteral(", "))) + QStringLiteral(". ") +
                     shown(because);
    }
    return lines.join(u'\n');
}

QString plans_table(const money::PlansBeside& plans) {
    const QString at =
        plans.hammer ? QObject::tr("profit at %1").arg(money_text(*plans.hammer)) : QObject::tr("profit");
    QString rows = table_row({QObject::tr("plan"), QObject::tr("bid up to"), at, QObject::tr("loss")}, "th");
    for (const money::PlanBeside& plan : plans.plans) {
        rows += table_row({shown(plan.name), plan.report.bid ? money_text(*plan.report.bid) : QObject::tr("no limit"),
                           plan.at_hammer ? money_text(plan.at_hammer->expected_profit) : QStringLiteral("–"),
                           plan.at_hammer ? percent_text(plan.at_hammer->loss_probability) : QStringLiteral("–")},
                          "td");
    }
    return table_of(rows) + remarks_html(plans.remarks);
}

QString courses_table(const money::CoursesReport& report) {
    QString rows = table_row({QObject::tr("from now on"), QObject::tr("expected profit"), QObject::tr("loss"),
                              QObject::tr("still to spend")},
                             "th");
    for (const money::CourseOutlook& course : report.courses) {
        const QString name = capital(shown(money::course_name(course.course))) +
                             (course.course == report.best ? QObject::tr(" ← best") : QString());
        rows += table_row({name, money_text(course.expected_profit), percent_text(course.loss_probability),
                           money_text(course.still_to_spend)},
                          "td");
    }
    const money::SpendingLimits& may = report.may_be_spent;
    QString limits;
    const auto add = [&](const QString& until, const std::optional<Money>& sum) {
        if (sum) limits += table_row({until, money_text(*sum)}, "td");
    };
    add(QObject::tr("the profit wanted is gone"), may.target);
    add(QObject::tr("the risk accepted is passed"), may.risk);
    add(QObject::tr("the cash has gone"), may.cash);
    add(QObject::tr("stopping is worth as much"), may.stop);
    if (!limits.isEmpty())
        limits = table_row({QObject::tr("May still be spent in all before"), QString()}, "th") + limits;
    return table_of(rows) + QStringLiteral("<br>") + table_of(limits) + remarks_html(report.remarks);
}

}  // namespace tedge::desk
