// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shell/back_ups_page.h"

#include "app/commands/back_up_commands.h"
#include "app/commands/push_command.h"
#include "app/commands/settings_commands.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/typed_values.h"
#include "app/shell/session.h"

#include <QApplication>
#include <QDir>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QKeyEvent>
#include <QLineEdit>
#include <QLocale>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>

namespace keyround {

namespace {

constexpr int columns = 4;
constexpr int buttonHeight = 48;

QTableWidgetItem *cell(const QString &text, bool isNumber)
{
    auto *item = new QTableWidgetItem(text);
    item->setFlags(Qt::ItemIsSelectable | Qt::ItemIsEnabled);
    item->setTextAlignment(Qt::AlignVCenter | (isNumber ? Qt::AlignRight : Qt::AlignLeft));
    return item;
}

QString fileName(const QString &path)
{
    return QFileInfo(path).fileName();
}

} // namespace

BackUpsPage::BackUpsPage(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_title(plainLabel({}, QStringLiteral("title"), this)),
      m_trouble(plainLabel({}, QStringLiteral("danger"), this)),
      m_says(plainLabel({}, QStringLiteral("quiet"), this)),
      m_table(new QTableWidget(0, columns, this)), m_restore(new QPushButton(this)),
      m_recover(new QPushButton(tr("Recover row by row"), this)),
      m_leave(new QPushButton(tr("Back"), this))
{
    build();
    connect(m_table, &QTableWidget::itemSelectionChanged, this, &BackUpsPage::refreshButtons);
    connect(m_restore, &QPushButton::clicked, this, &BackUpsPage::restore);
    connect(m_recover, &QPushButton::clicked, this, &BackUpsPage::recover);
    connect(m_leave, &QPushButton::clicked, this, &BackUpsPage::leaveWanted);
}

void BackUpsPage::build()
{
    m_trouble->setObjectName(QStringLiteral("backUpTrouble"));
    m_table->setObjectName(QStringLiteral("backUps"));
    m_table->setAccessibleName(tr("Back-ups, the newest first"));
    m_table->setHorizontalHeaderLabels(
        {tr("Made"), tr("Size"), tr("Visits in it"), tr("Last visit recorded")});
    m_table->verticalHeader()->hide();
    m_table->verticalHeader()->setDefaultSectionSize(36);
    m_table->horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
    m_table->setSelectionBehavior(QAbstractItemView::SelectRows);
    m_table->setSelectionMode(QAbstractItemView::SingleSelection);
    m_table->setTabKeyNavigation(false);
    m_restore->setObjectName(QStringLiteral("restoreBackUp"));
    m_restore->setProperty("role", QStringLiteral("primary"));
    m_recover->setObjectName(QStringLiteral("recoverProject"));
    m_leave->setObjectName(QStringLiteral("leaveBackUps"));
    auto *buttons = new QHBoxLayout;
    for (QPushButton *button : {m_restore, m_recover, m_leave}) {
        button->setMinimumHeight(buttonHeight);
        buttons->addWidget(button);
    }
    buttons->addStretch(1);
    m_keep = keepLines();

    auto *column = new QVBoxLayout;
    column->setSpacing(12);
    column->addWidget(m_title);
    column->addWidget(m_trouble);
    column->addWidget(m_says);
    column->addWidget(m_table, 1);
    column->addLayout(buttons);
    column->addWidget(m_keep);
    auto *row = new QHBoxLayout(this);
    row->setContentsMargins(24, 24, 24, 24);
    row->addStretch(1);
    row->addLayout(column, 8);
    row->addStretch(1);
}

QWidget *BackUpsPage::keepLines()
{
    const auto change = [this](const QString &text, double least, int BackUpHabits::*habit) {
        constexpr double most = 100000;
        return numberTyped(text, least, most).and_then([&](double number) {
            ProjectSettings after = m_session.settings();
            after.backUps.*habit = static_cast<int>(number);
            return pushCommand(m_session, std::make_unique<ChangeSettings>(
                                              m_session, after, tr("Keep other back-ups")));
        });
    };
    m_keepCount = new CheckedLine(
        tr("How many back-ups are kept in any case"),
        [change](const QString &text) { return change(text, 1, &BackUpHabits::keepCount); }, this);
    m_keepDays = new CheckedLine(
        tr("For how many days every back-up is kept"),
        [change](const QString &text) { return change(text, 0, &BackUpHabits::keepDays); }, this);
    m_keepCount->line()->setObjectName(QStringLiteral("keepCount"));
    m_keepDays->line()->setObjectName(QStringLiteral("keepDays"));
    auto *lines = new QWidget(this);
    auto *row = new QHBoxLayout(lines);
    row->setContentsMargins(0, 0, 0, 0);
    constexpr int lineWidth = 90;
    for (CheckedLine *line : {m_keepCount, m_keepDays}) {
        line->line()->setMaximumWidth(lineWidth);
    }
    row->addWidget(plainCaption(tr("Keep at least this many:"), {}, lines));
    row->addWidget(m_keepCount);
    row->addWidget(plainCaption(tr("and all that are younger than so many days:"), {}, lines));
    row->addWidget(m_keepDays);
    row->addStretch(1);
    return lines;
}

void BackUpsPage::showFor(const QString &project, const QString &trouble)
{
    m_project = project;
    m_asked = -1;
    m_title->setText(tr("Back-ups of %1").arg(QFileInfo(project).completeBaseName()));
    m_trouble->setText(trouble);
    m_trouble->setVisible(!trouble.isEmpty());
    m_recover->setVisible(!trouble.isEmpty());
    m_keep->setVisible(trouble.isEmpty() && m_session.isOpen());
    if (m_session.isOpen()) {
        m_keepCount->setStored(QString::number(m_session.settings().backUps.keepCount));
        m_keepDays->setStored(QString::number(m_session.settings().backUps.keepDays));
    }
    fillTable();
    const QString how =
        trouble.isEmpty()
            ? QString()
            : tr(" Recovering reads what can still be read of the damaged file and lists what was "
                 "doubtful: it may have visits that no back-up has.");
    m_says->setText(
        m_backUps.empty()
            ? tr("There is no back-up yet: one is made whenever a round is finished, and by "
                 "\"Back up now\" in the Project menu.") +
                  how
            : tr("Restoring puts a back-up in the project's place. The file that is there now is "
                 "set aside under a dated name first, and can be put back.") +
                  how);
    refreshButtons();
    (m_backUps.empty() ? static_cast<QWidget *>(trouble.isEmpty() ? m_leave : m_recover) : m_table)
        ->setFocus();
}

void BackUpsPage::fillTable()
{
    m_backUps = backUpsOf(m_project);
    m_table->clearContents();
    m_table->setRowCount(static_cast<int>(m_backUps.size()));
    const QLocale locale;
    for (int row = 0; row < m_table->rowCount(); ++row) {
        const BackUp &backUp = m_backUps[static_cast<std::size_t>(row)];
        const auto content = lookInto(backUp);
        const QDateTime last =
            content && content->lastStamp.value != 0
                ? QDateTime::fromMSecsSinceEpoch(content->lastStamp.milliseconds())
                : QDateTime();
        const QString form = QStringLiteral("yyyy-MM-dd HH:mm");
        m_table->setItem(row, 0, cell(backUp.made.toString(form), false));
        m_table->setItem(row, 1, cell(locale.formattedDataSize(backUp.bytes), true));
        m_table->setItem(
            row, 2, cell(content ? QString::number(content->visits) : tr("not readable"), true));
        m_table->setItem(row, 3,
                         cell(last.isValid() ? last.toString(form) : QStringLiteral("–"), false));
    }
    m_table->setVisible(!m_backUps.empty());
    if (!m_backUps.empty()) {
        m_table->selectRow(0);
    }
}

void BackUpsPage::refreshButtons()
{
    const int row = m_table->currentRow();
    const bool isAsked = row >= 0 && row == m_asked;
    m_restore->setVisible(!m_backUps.empty());
    m_restore->setEnabled(row >= 0);
    m_restore->setText(isAsked ? tr("Yes: set the present file aside, and restore")
                               : tr("Restore this back-up"));
    if (!isAsked) {
        m_asked = -1;
    }
}

void BackUpsPage::restore()
{
    const int row = m_table->currentRow();
    if (row < 0) {
        return;
    }
    if (m_asked != row) {
        m_asked = row;
        refreshButtons();
        return;
    }
    const QString made = m_table->item(row, 0)->text();
    const auto aside =
        restoreProject(m_session, m_project, m_backUps[static_cast<std::size_t>(row)].path);
    if (!aside) {
        m_asked = -1;
        refreshButtons();
        Q_EMIT m_session.notifier().failed(aside.error().message);
        return;
    }
    Q_EMIT projectReplaced();
    Q_EMIT m_session.notifier().said(
        aside->isEmpty() ? tr("The back-up of %1 is the project now.").arg(made)
                         : tr("The back-up of %1 is the project now. What was there is kept as %2.")
                               .arg(made, fileName(*aside)));
}

void BackUpsPage::recover()
{
    QApplication::setOverrideCursor(Qt::WaitCursor);
    const auto recovery = recoverInPlace(m_session, m_project);
    QApplication::restoreOverrideCursor();
    if (!recovery) {
        Q_EMIT m_session.notifier().failed(recovery.error().message);
        return;
    }
    Q_EMIT projectReplaced();
    const QString visits =
        tr("%1 visits came back").arg(recovery->rowsIn(QStringLiteral("visits")));
    if (recovery->isWhole()) {
        Q_EMIT m_session.notifier().said(
            tr("Recovered: %1, and nothing was doubtful. The damaged file is kept as %2.")
                .arg(visits, fileName(recovery->from)));
        return;
    }
    const QString first = recovery->doubtful.empty()
                              ? recovery->notes.value(0)
                              : recovery->doubtful.front().table + QStringLiteral(": ") +
                                    recovery->doubtful.front().what;
    // Stays until it is put away: somebody must look at what was doubtful.
    Q_EMIT m_session.notifier().failed(
        tr("Recovered: %1; %2 rows are doubtful, the first: %3. All of them stand in "
           "%4.recovery.json beside the project; the damaged file is kept as %5.")
            .arg(visits)
            .arg(recovery->doubtful.size())
            .arg(first, QFileInfo(m_project).completeBaseName(), fileName(recovery->from)));
}

void BackUpsPage::keyPressEvent(QKeyEvent *event)
{
    if (event->key() == Qt::Key_Escape) {
        Q_EMIT leaveWanted();
    } else if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) &&
               m_table->hasFocus()) { // not from a line that is typed into
        m_restore->click();
    } else {
        QWidget::keyPressEvent(event);
    }
}

} // namespace keyround
