// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/commands/back_up_commands.h"

#include "core/storage/back_ups.h"

#include <QDir>
#include <QFileInfo>

namespace keyround {

namespace {

bool isOpenIn(Session &session, const QString &project)
{
    return session.isOpen() && QFileInfo(session.project().path()) == QFileInfo(project);
}

} // namespace

Result<QString> restoreProject(Session &session, const QString &project, const QString &backUp)
{
    const bool wasOpen = isOpenIn(session, project);
    if (wasOpen) {
        session.closeProject(); // what waits to be saved is saved first
    }
    Result<QString> aside = restoreBackUp(project, backUp, session.now());
    if (!aside && !wasOpen) {
        return aside;
    }
    if (Status opened = session.openProject(project); !opened) {
        return tl::unexpected(aside ? opened.error() : aside.error());
    }
    return aside;
}

Result<Recovery> recoverInPlace(Session &session, const QString &project)
{
    if (isOpenIn(session, project)) {
        return fail(ErrorCode::Refused,
                    QObject::tr("This project is open and sound. Only a file that cannot be "
                                "opened is recovered."));
    }
    const QFileInfo file(project);
    const QString base = file.absolutePath() + QLatin1Char('/') + file.completeBaseName();
    const QString fresh = base + QStringLiteral(".recovered.keyround");
    if (QFileInfo::exists(fresh)) {
        return fail(ErrorCode::Refused,
                    QObject::tr("%1 is there already, from an earlier try. Move it away first.")
                        .arg(QDir::toNativeSeparators(fresh)));
    }
    Result<Recovery> recovery = recoverProject(project, fresh);
    if (!recovery) {
        return recovery;
    }
    // The photos lie beside the project already, under its own name.
    QDir(base + QStringLiteral(".recovered.photos")).removeRecursively();
    const auto aside = replaceProject(project, fresh, session.now());
    if (!aside) {
        return tl::unexpected(aside.error());
    }
    recovery->from = *aside;
    recovery->to = file.absoluteFilePath();
    if (const auto report = keepRecoveryReport(*recovery); !report) {
        recovery->notes << report.error().message;
    }
    if (Status opened = session.openProject(project); !opened) {
        return tl::unexpected(opened.error());
    }
    return recovery;
}

} // namespace keyround
