// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shell/main_window.h"
#include "app/shell/session.h"
#include "app/shell/style.h"

#include <QApplication>
#include <QCommandLineParser>

int main(int argc, char *argv[])
{
    QApplication application(argc, argv);
    QApplication::setApplicationName(QStringLiteral("keyround"));
    QApplication::setOrganizationName(QStringLiteral("keyround"));
    QApplication::setApplicationVersion(QStringLiteral(KEYROUND_VERSION));
    keyround::applyLook(application);

    QCommandLineParser parser;
    parser.setApplicationDescription(
        QObject::tr("Keyround: rounds, visits and condition of a water utility's valves"));
    parser.addPositionalArgument(QStringLiteral("project"), QObject::tr("project file to open"),
                                 QStringLiteral("[NAME.keyround]"));
    const QCommandLineOption day(QStringLiteral("on"),
                                 QObject::tr("look at the project as on this day"),
                                 QObject::tr("YYYY-MM-DD"));
    parser.addOption(day);
    parser.addHelpOption();
    parser.addVersionOption();
    parser.process(application);

    keyround::Session session;
    session.setDay(QDate::fromString(parser.value(day), Qt::ISODate));
    keyround::MainWindow window(session);
    window.show();
    window.openProject(parser.positionalArguments().value(0));
    return QApplication::exec();
}
