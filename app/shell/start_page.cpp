// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shell/start_page.h"

#include "app/dialogs/plain_label.h"

#include <QDir>
#include <QFileInfo>
#include <QPushButton>
#include <QSettings>
#include <QVBoxLayout>

namespace keyround {

namespace {

constexpr qsizetype keptProjects = 8;
const auto recentKey = QStringLiteral("recentProjects");

} // namespace

StartPage::StartPage(QWidget *parent) : QWidget(parent), m_recent(new QVBoxLayout)
{
    auto *create = new QPushButton(tr("New project..."), this);
    create->setProperty("role", QStringLiteral("primary"));
    create->setObjectName(QStringLiteral("newProject"));
    auto *open = new QPushButton(tr("Open a project..."), this);
    open->setObjectName(QStringLiteral("openProject"));
    for (QPushButton *button : {create, open}) {
        button->setMinimumSize(280, 48);
    }
    connect(create, &QPushButton::clicked, this, &StartPage::newWanted);
    connect(open, &QPushButton::clicked, this, &StartPage::openWanted);

    auto *column = new QVBoxLayout;
    column->setSpacing(12);
    column->addStretch(2);
    column->addWidget(plainLabel(tr("Keyround"), QStringLiteral("title"), this));
    column->addWidget(
        plainLabel(tr("A project is one file that holds a utility's valves, streets, "
                      "rounds and visits. Make one, bring in the valves from your own "
                      "files, and draw up the first round."),
                   QStringLiteral("quiet"), this));
    column->addWidget(create, 0, Qt::AlignLeft);
    column->addWidget(open, 0, Qt::AlignLeft);
    column->addLayout(m_recent);
    column->addStretch(3);

    auto *row = new QHBoxLayout(this);
    row->addStretch(1);
    row->addLayout(column, 2);
    row->addStretch(1);
    refresh();
}

void StartPage::refresh()
{
    while (QLayoutItem *item = m_recent->takeAt(0)) {
        delete item->widget();
        delete item;
    }
    const QStringList paths = recentProjects();
    if (!paths.isEmpty()) {
        m_recent->addWidget(plainLabel(tr("Opened before"), QStringLiteral("heading"), this));
    }
    for (const QString &path : paths) {
        const QFileInfo info(path);
        auto *button = new QPushButton(
            QStringLiteral("%1   (%2)")
                .arg(info.completeBaseName(), QDir::toNativeSeparators(info.absolutePath())),
            this);
        button->setFlat(true);
        button->setStyleSheet(QStringLiteral("text-align: left"));
        connect(button, &QPushButton::clicked, this, [this, path] { Q_EMIT pathWanted(path); });
        m_recent->addWidget(button);
    }
}

QStringList StartPage::recentProjects()
{
    QStringList paths = QSettings().value(recentKey).toStringList();
    paths.removeIf([](const QString &path) { return !QFileInfo::exists(path); });
    return paths;
}

void StartPage::remember(const QString &path)
{
    const QString absolute = QFileInfo(path).absoluteFilePath();
    QStringList paths = recentProjects();
    paths.removeAll(absolute);
    paths.prepend(absolute);
    QSettings().setValue(recentKey, paths.mid(0, keptProjects));
}

} // namespace keyround
