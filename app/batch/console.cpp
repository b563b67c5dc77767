// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

#include <QJsonArray>
#include <QJsonDocument>

#include <algorithm>
#include <cstdio>
#include <cstdlib>

namespace keyround::batch {

namespace {

/// Set by --json - and --csv -: a script that reads data from stdout finds nothing else there.
bool stdoutIsForData = false;

void print(std::FILE *stream, const QString &text)
{
    const QByteArray bytes = text.toUtf8() + '\n';
    std::fwrite(bytes.constData(), 1, size_t(bytes.size()), stream);
}

bool isStdout(const QString &path)
{
    return path == QStringLiteral("-");
}

/// To a file whole or not at all; "-": to stdout.
Done writeOut(const QString &path, const QByteArray &bytes)
{
    if (isStdout(path)) {
        std::fwrite(bytes.constData(), 1, size_t(bytes.size()), stdout);
        return exitDone;
    }
    if (const Status written = writeWhole(path, bytes); !written) {
        return failed(written.error());
    }
    return exitDone;
}

} // namespace

tl::unexpected<Trouble> wrongUse(const QString &message)
{
    return tl::unexpected(Trouble{exitWrongUse, message});
}

tl::unexpected<Trouble> failed(const QString &message)
{
    return tl::unexpected(Trouble{exitFailed, message});
}

tl::unexpected<Trouble> failed(const Error &error)
{
    return failed(error.message);
}

void say(const QString &line)
{
    print(stdoutIsForData ? stderr : stdout, line);
}

void complain(const QString &line)
{
    print(stderr, line);
}

Outcome<bool> parse(QCommandLineParser &parser, const QString &command,
                    const QStringList &arguments, qsizetype places)
{
    const QCommandLineOption help(QStringList{QStringLiteral("h"), QStringLiteral("help")},
                                  QObject::tr("tell the options of this command"));
    parser.addOption(help);
    if (!parser.parse(arguments)) {
        return wrongUse(parser.errorText());
    }
    if (parser.isSet(help)) {
        // Qt names the program as it was started, without the command.
        QString text = parser.helpText();
        text.replace(0, text.indexOf(QStringLiteral(" [options]")),
                     QStringLiteral("Usage: keyround-batch %1").arg(command));
        say(text.trimmed());
        std::exit(exitDone);
    }
    if (parser.positionalArguments().size() > places) {
        return wrongUse(
            QObject::tr(
                "\"%1\" is one argument too many; keyround-batch %2 --help tells the options")
                .arg(parser.positionalArguments().at(places), command));
    }
    qsizetype toStdout = 0;
    for (const char *option : {"json", "csv"}) {
        const QString name = QLatin1String(option);
        toStdout += parser.optionNames().contains(name) && isStdout(parser.value(name)) ? 1 : 0;
    }
    if (toStdout > 1) {
        return wrongUse(QObject::tr("only one of --json and --csv can go to standard output (-); "
                                    "give the other a file"));
    }
    stdoutIsForData = toStdout > 0;
    return true;
}

void addProjectOption(QCommandLineParser &parser)
{
    parser.addOption({QStringLiteral("project"), QObject::tr("the project file"),
                      QStringLiteral("FILE.keyround")});
}

void addCsvOption(QCommandLineParser &parser, const QString &what)
{
    parser.addOption({QStringLiteral("csv"), QObject::tr("%1 (-: stdout)").arg(what),
                      QStringLiteral("OUT.csv")});
}

void addJsonOption(QCommandLineParser &parser)
{
    parser.addOption({QStringLiteral("json"), QObject::tr("write the result as JSON (-: stdout)"),
                      QStringLiteral("OUT")});
}

Outcome<std::unique_ptr<Session>> openSession(const QCommandLineParser &parser)
{
    const QString path = parser.value(QStringLiteral("project"));
    if (path.isEmpty()) {
        return wrongUse(QObject::tr("--project FILE.keyround is needed"));
    }
    auto session = std::make_unique<Session>();
    QObject::connect(&session->notifier(), &Notifier::failed, session.get(), &complain);
    if (const Status opened = session->openProject(path); !opened) {
        return failed(opened.error());
    }
    return session;
}

Outcome<QDate> dateOption(const QCommandLineParser &parser, const QString &name,
                          const QDate &fallback)
{
    if (!parser.isSet(name)) {
        return fallback;
    }
    const QDate date = QDate::fromString(parser.value(name), Qt::ISODate);
    if (!date.isValid()) {
        return wrongUse(QObject::tr("--%1 takes a date such as 2026-03-16, not \"%2\"")
                            .arg(name, parser.value(name)));
    }
    return date;
}

Outcome<std::unique_ptr<Session>> openSessionOn(const QCommandLineParser &parser)
{
    const auto day = dateOption(parser, QStringLiteral("on"), {});
    if (!day) {
        return tl::unexpected(day.error());
    }
    auto opened = openSession(parser);
    if (opened) {
        (*opened)->setDay(*day);
    }
    return opened;
}

Outcome<GeoPoint> placeFrom(const QString &text, const QString &what)
{
    const QStringList parts = text.split(QLatin1Char(','));
    bool latitudeOk = false;
    bool longitudeOk = false;
    GeoPoint place;
    if (parts.size() == 2) {
        place.latitude = parts.at(0).trimmed().toDouble(&latitudeOk);
        place.longitude = parts.at(1).trimmed().toDouble(&longitudeOk);
    }
    if (!latitudeOk || !longitudeOk || !place.isValid()) {
        return wrongUse(
            QObject::tr("%1 takes latitude,longitude in degrees, not \"%2\"").arg(what, text));
    }
    return place;
}

void addRoundOptions(QCommandLineParser &parser, const QString &dateName)
{
    parser.addOption({dateName, QObject::tr("the round's day"), QStringLiteral("YYYY-MM-DD")});
    parser.addOption({QStringLiteral("crew"), QObject::tr("whose round, where there are several"),
                      QStringLiteral("NAME")});
}

Outcome<Round> roundOf(const QCommandLineParser &parser, Session &session, const QString &dateName)
{
    const auto date = dateOption(parser, dateName, session.today());
    if (!date) {
        return tl::unexpected(date.error());
    }
    const QString crew = parser.value(QStringLiteral("crew"));
    std::vector<Round> found;
    std::ranges::copy_if(session.rounds(), std::back_inserter(found), [&](const Round &round) {
        return round.date == *date &&
               (crew.isEmpty() || round.crew.compare(crew, Qt::CaseInsensitive) == 0);
    });
    if (found.empty()) {
        return failed(QObject::tr("there is no such round on %1; keyround-batch plan draws one up")
                          .arg(date->toString(Qt::ISODate)));
    }
    if (found.size() > 1) {
        return wrongUse(QObject::tr("%1 crews have a round on %2: say which with --crew")
                            .arg(found.size())
                            .arg(date->toString(Qt::ISODate)));
    }
    return std::move(found.front());
}

Done writeJson(const QCommandLineParser &parser, const QJsonObject &json)
{
    const QString path = parser.value(QStringLiteral("json"));
    if (path.isEmpty()) {
        return exitDone;
    }
    return writeOut(path, QJsonDocument(json).toJson());
}

Done writeCsvAsked(const QCommandLineParser &parser, const CsvTable &table)
{
    const QString csv = QStringLiteral("csv");
    return parser.isSet(csv) ? writeOut(parser.value(csv), csvBytes(table)) : Done(exitDone);
}

QJsonArray notesJson(const std::vector<RowNote> &notes)
{
    QJsonArray array;
    for (const RowNote &note : notes) {
        array.append(QJsonObject{{QStringLiteral("row"), note.row},
                                 {QStringLiteral("column"), note.column},
                                 {QStringLiteral("value"), note.value},
                                 {QStringLiteral("reason"), note.reason}});
    }
    return array;
}

void complainOf(const std::vector<RowNote> &notes, const QString &outcome)
{
    constexpr size_t shown = 20;
    for (size_t i = 0; i < std::min(notes.size(), shown); ++i) {
        const RowNote &note = notes[i];
        QStringList parts{outcome, note.reason};
        if (note.row > 0) {
            const QString value = QStringLiteral("%1 \"%2\"").arg(note.column, note.value);
            parts = {QObject::tr("row %1").arg(note.row), outcome, value.trimmed(), note.reason};
        }
        complain(parts.join(QStringLiteral(": ")));
    }
    if (notes.size() > shown) {
        complain(QObject::tr("... and %1 more (--json lists all)").arg(notes.size() - shown));
    }
}

} // namespace keyround::batch
