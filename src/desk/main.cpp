#include <QApplication>
#include <QCommandLineParser>
#include <QScreen>
#include <QTextStream>

#include "book_session.hpp"
#include "desk_window.hpp"
#include "opening_dialog.hpp"
#include "screenshots.hpp"
#include "tedge/base/files.hpp"
#include "text.hpp"
#include "theme.hpp"

using namespace tedge;
using namespace tedge::desk;

namespace {

// "1024x640"; what is no size becomes the usual one.
QSize size_of(const QString& text) {
    const QStringList sides = text.split(u'x');
    const QSize size = sides.size() == 2 ? QSize(sides[0].toInt(), sides[1].toInt()) : QSize();
    return size.width() > 0 && size.height() > 0 ? size : QSize(1440, 900);
}

// The casebook named, else the one that is chosen in the dialog; nothing when neither could be opened.
std::unique_ptr<BookSession> asked_for(const QStringList& named, const QString& who, bool unattended, Clock& clock,
                                       IdSource& ids) {
    QString why_not;
    if (!named.isEmpty()) {
        auto session = BookSession::open({path_from_utf8(plain(named.front())), plain(who), &clock, &ids});
        if (session) return *std::move(session);
        why_not = shown(session.error().message + " " + session.error().next);
        QTextStream(stderr) << why_not << "\n";
        if (unattended) return nullptr;
    }
    OpeningDialog dialog(clock, ids, who);
    dialog.say(why_not);
    return dialog.exec() == QDialog::Accepted ? dialog.take_session() : nullptr;
}

}  // namespace

int main(int count, char** words) {
    QApplication application(count, words);
    QApplication::setApplicationName(QStringLiteral("Tacking Edge"));
    QApplication::setOrganizationName(QStringLiteral("Tacking Edge"));
    QCommandLineParser parser;
    parser.setApplicationDescription(QStringLiteral("One case per picture, from the lot to the dossier."));
    parser.addHelpOption();
    parser.addPositionalArgument(QStringLiteral("casebook"),
                                 QStringLiteral("The folder of the casebook; left out, the desk asks."));
    const QCommandLineOption dark(QStringLiteral("dark"), QStringLiteral("Dark around the sheets."));
    const QCommandLineOption by(QStringLiteral("by"), QStringLiteral("Who works."), QStringLiteral("name"),
                                qEnvironmentVariable("USER", QStringLiteral("owner")));
    const QCommandLineOption shots(QStringLiteral("screenshots"),
                                   QStringLiteral("Save pictures of every sheet and end."), QStringLiteral("folder"));
    const QCommandLineOption size(QStringLiteral("size"), QStringLiteral("Of the window."), QStringLiteral("1440x900"),
                                  QStringLiteral("1440x900"));
    const QCommandLineOption only(QStringLiteral("only"), QStringLiteral("These screenshots: survey,dossier-pages …"),
                                  QStringLiteral("names"));
    const QCommandLineOption photographs(QStringLiteral("photographs"),
                                         QStringLiteral("Files for the screenshot of their intake."),
                                         QStringLiteral("folder"));
    parser.addOptions({dark, by, shots, size, only, photographs});
    parser.process(application);
    use_theme(application, parser.isSet(dark) ? Shade::dark : Shade::light);
    const QStringList named = parser.positionalArguments();
    if (named.size() > 1 || (named.isEmpty() && parser.isSet(shots))) {
        QTextStream(stderr) << "Name the folder of one casebook: tackingedge CASEBOOK.\n";
        return 2;
    }
    SystemClock clock;
    SystemIdSource ids(clock);
    auto session = asked_for(named, parser.value(by), parser.isSet(shots), clock, ids);
    if (!session) return named.isEmpty() ? 0 : 1;
    DeskWindow window(std::move(session));
    if (parser.isSet(shots)) {
        return save_screenshots(
            application, window,
            {parser.value(shots), size_of(parser.value(size)), parser.isSet(dark) ? QStringLiteral("-dark") : QString(),
             parser.value(only).split(u',', Qt::SkipEmptyParts), parser.value(photographs)});
    }
    const QSize wanted = size_of(parser.value(size));
    window.resize(wanted);
    // With a bar above and an edge around it, what fills the screen would lose its lowest line.
    const QSize room = window.screen()->availableSize();
    if (wanted.width() >= room.width() || wanted.height() >= room.height())
        window.showMaximized();
    else
        window.show();
    return QApplication::exec();
}
