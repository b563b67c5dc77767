// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/back_ups.h"

#include "core/storage/connection.h"
#include "core/storage/durable_file.h"
#include "core/storage/file_check.h"
#include "core/storage/project.h"
#include "core/storage/statement.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QRegularExpression>
#include <QSqlDatabase>
#include <QUuid>

#include <algorithm>
#include <tuple>

namespace keyround {

namespace {

const QString dateForm = QStringLiteral("yyyy-MM-dd-HHmmss");
const QString suffix = QStringLiteral(".keyround");
const QString journal = QStringLiteral("-journal");

QString baseName(const QString &project)
{
    return QFileInfo(project).completeBaseName();
}

/// The date in NAME-2026-03-16-154500.keyround or NAME-2026-03-16-154500-2.keyround.
QDateTime dateIn(const QString &fileName, const QString &name)
{
    static const QRegularExpression form(
        QStringLiteral("^(\\d{4}-\\d{2}-\\d{2}-\\d{6})(-\\d+)?\\.keyround$"));
    if (!fileName.startsWith(name + QLatin1Char('-'))) {
        return {};
    }
    const auto match = form.match(fileName.mid(name.size() + 1));
    return match.hasMatch() ? QDateTime::fromString(match.captured(1), dateForm) : QDateTime();
}

/// A connection that can only read, and takes no lock for good.
class ReadOnlyLook
{
public:
    explicit ReadOnlyLook(const QString &path)
        : m_name(QStringLiteral("keyround-look-") +
                 QUuid::createUuid().toString(QUuid::WithoutBraces))
    {
        QSqlDatabase database = QSqlDatabase::addDatabase(QStringLiteral("QSQLITE"), m_name);
        database.setConnectOptions(QStringLiteral("QSQLITE_OPEN_READONLY"));
        database.setDatabaseName(path);
        m_isOpen = database.open();
    }
    ~ReadOnlyLook()
    {
        QSqlDatabase::database(m_name, false).close();
        QSqlDatabase::removeDatabase(m_name);
    }
    ReadOnlyLook(const ReadOnlyLook &) = delete;
    ReadOnlyLook &operator=(const ReadOnlyLook &) = delete;
    [[nodiscard]] bool isOpen() const { return m_isOpen; }
    [[nodiscard]] const QString &name() const { return m_name; }

private:
    QString m_name;
    bool m_isOpen = false;
};

Status copyDurably(const QString &from, const QString &to)
{
    if (!QFile::copy(from, to) || !flushToDisk(to)) {
        QFile::remove(to);
        return fail(ErrorCode::StorageFault,
                    QStringLiteral("%1 could not be copied to %2. Nothing was changed. Make room, "
                                   "then try again.")
                        .arg(QDir::toNativeSeparators(from), QDir::toNativeSeparators(to)));
    }
    QFile::setPermissions(to, QFile::permissions(to) | QFile::WriteOwner);
    return {};
}

/// Where opening will keep the file as it is, if it brings it up to date; empty if it will not.
QString copyOfOldSchema(const QString &path)
{
    const auto schema = checkProjectHeader(path, currentSchemaVersion());
    return schema && *schema < currentSchemaVersion() ? pathOfOldSchema(path, *schema) : QString();
}

} // namespace

QString backUpFolder(const QString &project)
{
    return QFileInfo(project).absolutePath() + QLatin1Char('/') + baseName(project) +
           QStringLiteral(".backups");
}

std::vector<BackUp> backUpsOf(const QString &project)
{
    std::vector<BackUp> found;
    for (const QFileInfo &file : QDir(backUpFolder(project)).entryInfoList(QDir::Files)) {
        const QDateTime made = dateIn(file.fileName(), baseName(project));
        if (made.isValid()) {
            found.push_back({file.absoluteFilePath(), made, file.size()});
        }
    }
    // Of one second: the one without a number, then -2, ... -9, -10.
    const auto age = [](const BackUp &each) {
        return std::tuple(each.made, each.path.size(), each.path);
    };
    std::ranges::sort(found, [&age](const BackUp &a, const BackUp &b) { return age(a) > age(b); });
    return found;
}

Result<BackUpContent> lookInto(const BackUp &backUp)
{
    if (const auto schema = checkProjectHeader(backUp.path, currentSchemaVersion()); !schema) {
        return tl::unexpected(schema.error());
    }
    const ReadOnlyLook look(backUp.path);
    BackUpContent content;
    const Status read =
        look.isOpen()
            ? readRows(look.name(), QStringLiteral("SELECT COUNT(*), MAX(stamp) FROM visits"),
                       [&content](const Statement &row) -> Status {
                           content = {row.integer(0), row.stamp(1)};
                           return {};
                       })
            : fail(ErrorCode::Refused,
                   QStringLiteral("%1 cannot be read.").arg(QDir::toNativeSeparators(backUp.path)));
    return read.map([&content] { return content; });
}

std::vector<BackUp> surplus(const std::vector<BackUp> &newestFirst, const BackUpHabits &habits,
                            const QDate &today)
{
    std::vector<BackUp> going;
    const auto kept = static_cast<std::size_t>(std::max(1, habits.keepCount));
    for (std::size_t i = kept; i < newestFirst.size(); ++i) {
        if (newestFirst[i].made.date().daysTo(today) > habits.keepDays) {
            going.push_back(newestFirst[i]);
        }
    }
    return going;
}

int pruneBackUps(const QString &project, const BackUpHabits &habits, const QDate &today)
{
    int gone = 0;
    for (const BackUp &backUp : surplus(backUpsOf(project), habits, today)) {
        gone += QFile::remove(backUp.path) ? 1 : 0;
    }
    return gone;
}

Result<QString> replaceProject(const QString &project, const QString &with, const Moment &now)
{
    const QFileInfo file(project);
    QString aside;
    if (file.exists()) {
        aside = freePath(file.absolutePath(),
                         QStringLiteral("%1.set-aside-%2")
                             .arg(baseName(project), now.local().toString(dateForm)),
                         suffix);
        if (Status moved = renameDurably(file.absoluteFilePath(), aside); !moved) {
            return tl::unexpected(moved.error());
        }
    }
    // A journal belongs to the file that it would roll back.
    if (QFile::exists(project + journal) &&
        !(aside.isEmpty() ? QFile::remove(project + journal)
                          : QFile::rename(project + journal, aside + journal))) {
        (void)QFile::rename(aside, project);
        return fail(ErrorCode::StorageFault,
                    QStringLiteral("The journal %1 could not be moved. Nothing was changed.")
                        .arg(QDir::toNativeSeparators(project + journal)));
    }
    if (Status moved = renameDurably(with, file.absoluteFilePath()); !moved) {
        if (!aside.isEmpty()) {
            (void)QFile::rename(aside + journal, project + journal);
            (void)QFile::rename(aside, project);
        }
        return tl::unexpected(moved.error());
    }
    // Closing leaves an empty journal under the name that the file had.
    if (QFileInfo(with + journal).size() == 0) {
        QFile::remove(with + journal);
    }
    return aside;
}

Result<QString> restoreBackUp(const QString &project, const QString &backUp, const Moment &now)
{
    // On a copy: opening brings an older schema up to date, which a back-up is spared.
    const QFileInfo file(project);
    const QString copy = freePath(file.absolutePath(),
                                  baseName(project) + QStringLiteral(".being-restored"), suffix);
    if (Status copied = copyDurably(backUp, copy); !copied) {
        return tl::unexpected(copied.error());
    }
    const QString oldSchema = copyOfOldSchema(copy);
    const auto cleanUp = [&copy] {
        QFile::remove(copy);
        QFile::remove(copy + journal);
    };
    const Status opened = Project::open(copy).map([](const std::unique_ptr<Project> &) {});
    if (!oldSchema.isEmpty()) {
        QFile::remove(oldSchema); // the back-up itself is still there
    }
    if (!opened) {
        cleanUp();
        return fail(opened.error().code,
                    QStringLiteral("This back-up was not restored: %1 Choose an older one.")
                        .arg(opened.error().message));
    }
    Result<QString> aside = replaceProject(project, copy, now);
    if (!aside) {
        cleanUp();
    }
    return aside;
}

} // namespace keyround
