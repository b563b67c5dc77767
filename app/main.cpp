// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shell/main_window.h"
#include "app/shell/session.h"
#include "app/shell/style.h"

#include <QApplication>
#include <QCommandLineParser>

#include <cstdio>

namespace {

constexpr int exitWrongUse = 2;

int refuse(const QString &message)
{
    std::fprintf(stderr, "keyround: %s\n", qUtf8Printable(message));
    return exitWrongUse;
}

} // namespace

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

    const QDate asked = QDate::fromString(parser.value(day), Qt::ISODate);
    if (parser.isSet(day) && !asked.isValid()) {
        return refuse(
            QObject::tr("--on takes a date such as 2026-03-16, not \"%1\"").arg(parser.value(day)));
    }
    if (parser.positionalArguments().size() > 1) {
        return refuse(QObject::tr("one project at a time: \"%1\" is one too many")
                          .arg(parser.positionalArguments().at(1)));
    }

    keyround::Session session;
    session.setDay(asked);
    keyround::MainWindow window(session);
    window.show();
    window.openProject(parser.positionalArguments().value(0));
    return QApplication::exec();
}
