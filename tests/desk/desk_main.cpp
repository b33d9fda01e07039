// One application for all tests of the desk.
#define CATCH_CONFIG_RUNNER
#include <QApplication>
#include <catch2/catch.hpp>

#include "theme.hpp"

int main(int count, char** words) {
    qputenv("QT_QPA_PLATFORM", "offscreen");
    QApplication application(count, words);
    tedge::desk::use_theme(application, tedge::desk::Shade::light);
    return Catch::Session().run(count, words);
}
