// Words where room is short.
#include "fit_text.hpp"

#include <catch2/catch.hpp>

#include "text.hpp"
#include "theme.hpp"

using namespace tedge;
using namespace tedge::desk;

TEST_CASE("Of several parts that do not fit the longest are cut, and each keeps its beginning") {
    const QFontMetrics metrics(text_font());
    const QStringList parts{QStringLiteral("the gallery, Port Ambling"), QStringLiteral("with Ada Wren"),
                            QStringLiteral("insured by the Lantern Mutual of Port Ambling")};
    const QString whole = parts.join(QStringLiteral(" · "));
    const int full = metrics.horizontalAdvance(whole);
    CHECK(fit_parts(parts, metrics, full) == whole);
    const QString cut = fit_parts(parts, metrics, full * 5 / 6);
    CHECK(metrics.horizontalAdvance(cut) <= full * 5 / 6);
    CHECK(cut.startsWith(QStringLiteral("the gallery, Port Ambling · with Ada Wren · insured by the L")));
    const QString narrow = fit_parts(parts, metrics, full / 2);
    CHECK(metrics.horizontalAdvance(narrow) <= full / 2);
    for (const char* beginning : {"the gall", "with Ada", "insured"}) CHECK(narrow.contains(QLatin1String(beginning)));
    CHECK(metrics.horizontalAdvance(fit_parts(parts, metrics, 30)) <= 30);
    CHECK(fit_parts({}, metrics, 100).isEmpty());
    CHECK(fit_parts(parts, metrics, 8).isEmpty());  // no dot that parts nothing from nothing
}

TEST_CASE("A short day names its year only where that is another one") {
    CHECK(short_day_text("2026-11-28", "2026-11-26") == QStringLiteral("28 Nov"));
    CHECK(short_day_text("2027-01-02", "2026-11-26") == QStringLiteral("2 Jan 2027"));
    CHECK(short_day_text("soon", "2026-11-26") == QStringLiteral("soon"));
}
