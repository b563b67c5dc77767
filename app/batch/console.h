// SPDX-License-Identifier: GPL-3.0-or-later
// What the console commands share: reading options, saying errors, writing JSON. Exit codes: 0
// done, 1 the job failed, 2 the command was used wrongly.
#pragma once

#include "app/shell/session.h"
#include "core/exchange/read_layer.h"
#include "core/exchange/write_files.h"

#include <QCommandLineParser>
#include <QJsonObject>

#include <memory>

namespace keyround::batch {

inline constexpr int exitDone = 0;
inline constexpr int exitFailed = 1;
inline constexpr int exitWrongUse = 2;

/// A wrong use or a failed job, with what to say on stderr.
struct Trouble
{
    int exitCode = exitFailed;
    QString message;
};
template <typename T> using Outcome = tl::expected<T, Trouble>;
using Done = Outcome<int>;

[[nodiscard]] tl::unexpected<Trouble> wrongUse(const QString &message);
[[nodiscard]] tl::unexpected<Trouble> failed(const QString &message);
[[nodiscard]] tl::unexpected<Trouble> failed(const Error &error);

/// Parses the arguments; --help prints the options of `command` and ends the process with 0.
/// More than `places` arguments that are no option are wrong use.
[[nodiscard]] Outcome<bool> parse(QCommandLineParser &parser, const QString &command,
                                  const QStringList &arguments, qsizetype places = 0);

/// An open project on a session of its own.
[[nodiscard]] Outcome<std::unique_ptr<Session>> openSession(const QCommandLineParser &parser);
/// The same, looked at as on the day of --on, where it is given.
[[nodiscard]] Outcome<std::unique_ptr<Session>> openSessionOn(const QCommandLineParser &parser);

[[nodiscard]] Outcome<QDate> dateOption(const QCommandLineParser &parser, const QString &name,
                                        const QDate &fallback);
/// "LAT,LON" in degrees.
[[nodiscard]] Outcome<GeoPoint> placeFrom(const QString &text, const QString &what);

/// The options that say which round: its day under `dateName`, and --crew.
void addRoundOptions(QCommandLineParser &parser, const QString &dateName);
/// The one round of that day and crew; today where no day is given.
[[nodiscard]] Outcome<Round> roundOf(const QCommandLineParser &parser, Session &session,
                                     const QString &dateName);

/// Writes the object to --json's file ("-": stdout) when the option is set.
[[nodiscard]] Done writeJson(const QCommandLineParser &parser, const QJsonObject &json);

/// Writes the table to --csv's file ("-": stdout) when the option is set.
[[nodiscard]] Done writeCsvAsked(const QCommandLineParser &parser, const CsvTable &table);

void addProjectOption(QCommandLineParser &parser);
/// What --csv writes.
void addCsvOption(QCommandLineParser &parser, const QString &what);
void addJsonOption(QCommandLineParser &parser);

/// One line to stdout (to stderr where --json - or --csv - needs stdout for itself), one to stderr.
void say(const QString &line);
void complain(const QString &line);

/// Rows not taken, and warnings, as JSON.
[[nodiscard]] QJsonArray notesJson(const std::vector<RowNote> &notes);
/// The same on stderr; the first twenty.
void complainOf(const std::vector<RowNote> &notes, const QString &outcome);

// The commands, each in a file of its own.
[[nodiscard]] Done runCreate(const QStringList &arguments);
[[nodiscard]] Done runLoad(const QStringList &arguments);
[[nodiscard]] Done runDue(const QStringList &arguments);
[[nodiscard]] Done runPlan(const QStringList &arguments);
[[nodiscard]] Done runWeeks(const QStringList &arguments);
[[nodiscard]] Done runLearn(const QStringList &arguments);
[[nodiscard]] Done runRecord(const QStringList &arguments);
[[nodiscard]] Done runCondition(const QStringList &arguments);
[[nodiscard]] Done runReview(const QStringList &arguments);
[[nodiscard]] Done runSetUp(const QStringList &arguments);
[[nodiscard]] Done runLoadList(const QStringList &arguments);
[[nodiscard]] Done runNotices(const QStringList &arguments);
[[nodiscard]] Done runContacts(const QStringList &arguments);
[[nodiscard]] Done runPaper(const QStringList &arguments);
[[nodiscard]] Done runShut(const QStringList &arguments);
[[nodiscard]] Done runSingleShuts(const QStringList &arguments);
[[nodiscard]] Done runRecover(const QStringList &arguments);
[[nodiscard]] Done runRepairs(const QStringList &arguments);

} // namespace keyround::batch
