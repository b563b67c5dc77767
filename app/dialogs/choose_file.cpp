// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/choose_file.h"

#include "app/shell/message_line.h"

#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QRegularExpression>
#include <QSettings>
#include <QWidget>

#include <optional>
#include <utility>

namespace keyround {

namespace {

std::optional<QString> nextFile;

QString lastFolder()
{
    return QSettings().value(QStringLiteral("lastFolder"), QDir::homePath()).toString();
}

QString remembered(const QString &path)
{
    if (!path.isEmpty()) {
        QSettings().setValue(QStringLiteral("lastFolder"), QFileInfo(path).absolutePath());
    }
    return path;
}

/// A name may hold a valve's number: "12/3" is no folder.
QString asFileName(QString name)
{
    static const QRegularExpression notInNames(QStringLiteral("[/\\\\:*?\"<>|]"));
    return name.replace(notInNames, QStringLiteral("-"));
}

} // namespace

void setNextFileForTest(const QString &path)
{
    nextFile = path;
}

QString chooseFileToOpen(QWidget *parent, const QString &title, const QString &filter)
{
    if (nextFile) {
        return *std::exchange(nextFile, std::nullopt);
    }
    return remembered(QFileDialog::getOpenFileName(parent, title, lastFolder(), filter));
}

QString chooseFileToSave(QWidget *parent, const QString &title, const QString &suggestedName,
                         const QString &filter)
{
    if (nextFile) {
        return *std::exchange(nextFile, std::nullopt);
    }
    return remembered(QFileDialog::getSaveFileName(
        parent, title, QDir(lastFolder()).filePath(asFileName(suggestedName)), filter));
}

void showOutcome(QWidget *widget, const Status &status, const QString &success)
{
    auto *line = widget->window()->findChild<MessageLine *>();
    if (line == nullptr) {
        return;
    }
    if (status) {
        line->say(success);
    } else {
        line->fail(status.error().message);
    }
}

} // namespace keyround
