#include <QApplication>
#include <QCommandLineParser>
#include <QTextStream>

#include "book_session.hpp"
#include "desk_window.hpp"
#include "screenshots.hpp"
#include "tedge/base/files.hpp"
#include "text.hpp"
#include "theme.hpp"

using namespace tedge;
using namespace tedge::desk;

int main(int count, char** words) {
    QApplication application(count, words);
    QApplication::setApplicationName(QStringLiteral("Tacking Edge"));
    QCommandLineParser parser;
    parser.setApplicationDescription(QStringLiteral("One case per picture, from the lot to the dossier."));
    parser.addHelpOption();
    parser.addPositionalArgument(QStringLiteral("casebook"), QStringLiteral("The folder of the casebook."));
    const QCommandLineOption dark(QStringLiteral("dark"), QStringLiteral("Dark around the sheets."));
    const QCommandLineOption by(QStringLiteral("by"), QStringLiteral("Who works."), QStringLiteral("name"),
                                qEnvironmentVariable("USER", QStringLiteral("owner")));
    const QCommandLineOption shots(QStringLiteral("screenshots"),
                                   QStringLiteral("Save pictures of every sheet and end."), QStringLiteral("folder"));
    parser.addOptions({dark, by, shots});
    parser.process(application);
    use_theme(application, parser.isSet(dark) ? Shade::dark : Shade::light);
    if (parser.positionalArguments().size() != 1) {
        QTextStream(stderr)
            << "Name the folder of one casebook: tackingedge CASEBOOK. tedge casebook create makes an empty one.\n";
        return 2;
    }
    SystemClock clock;
    SystemIdSource ids(clock);
    auto session = BookSession::open(
        {path_from_utf8(plain(parser.positionalArguments().front())), plain(parser.value(by)), &clock, &ids});
    if (!session) {
        QTextStream(stderr) << shown(session.error().message + " " + session.error().next) << "\n";
        return 1;
    }
    DeskWindow window(*std::move(session));
    if (parser.isSet(shots)) return save_screenshots(application, window, parser.value(shots));
    window.resize(1440, 900);
    window.show();
    return QApplication::exec();
}
