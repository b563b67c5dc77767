// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/radio_window.h"

#include "app/dialogs/choose_file.h"
#include "app/shell/session.h"
#include "app/yard/round_desk.h"
#include "core/exchange/write_files.h"
#include "core/reports/radio_list.h"

#include <QApplication>
#include <QClipboard>
#include <QHBoxLayout>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QVBoxLayout>

namespace keyround {

RadioWindow::RadioWindow(Session &session, RoundDesk &desk, QWidget *owner)
    : QWidget(owner, Qt::Window), m_session(session), m_desk(desk),
      m_lines(new QPlainTextEdit(this))
{
    setObjectName(QStringLiteral("radioWindow"));
    setWindowTitle(tr("To read over the radio"));
    setAttribute(Qt::WA_DeleteOnClose);
    m_lines->setReadOnly(true);
    m_lines->setAccessibleName(tr("The round in plain lines"));
    m_lines->setObjectName(QStringLiteral("radioLines"));
    auto *copy = new QPushButton(tr("Copy"), this);
    copy->setObjectName(QStringLiteral("radioCopy"));
    auto *keep = new QPushButton(tr("Save as text..."), this);
    keep->setObjectName(QStringLiteral("radioSave"));
    auto *row = new QHBoxLayout;
    row->addStretch(1);
    row->addWidget(copy);
    row->addWidget(keep);
    auto *layout = new QVBoxLayout(this);
    layout->addWidget(m_lines, 1);
    layout->addLayout(row);
    connect(copy, &QPushButton::clicked, this, [this] {
        QApplication::clipboard()->setText(m_lines->toPlainText());
        Q_EMIT m_session.notifier().said(tr("Copied %n lines.", nullptr, m_lines->blockCount()));
    });
    connect(keep, &QPushButton::clicked, this, &RadioWindow::save);
    connect(&desk, &RoundDesk::changed, this, &RadioWindow::refresh);
    resize(620, 560);
    refresh();
}

void RadioWindow::openBeside(QWidget *owner, Session &session, RoundDesk &desk)
{
    auto *window = owner->findChild<RadioWindow *>();
    if (window == nullptr) {
        window = new RadioWindow(session, desk, owner);
    }
    window->show();
    window->raise();
    window->activateWindow();
}

void RadioWindow::refresh()
{
    const Round &round = m_desk.round();
    const QStringList lines = round.stops.empty()
                                  ? QStringList{tr("This round has no stops yet.")}
                                  : radioList(round, m_desk.plan(), m_session.valves(),
                                              m_session.histories(), m_session.units());
    m_lines->setPlainText(lines.join(QLatin1Char('\n')));
}

void RadioWindow::save()
{
    const Round &round = m_desk.round();
    const QString name = tr("round-%1.txt").arg(round.date.toString(Qt::ISODate));
    const QString path = chooseFileToSave(this, tr("Save the lines"), name, tr("Text (*.txt)"));
    if (path.isEmpty()) {
        return;
    }
    const Status saved = writeWhole(path, (m_lines->toPlainText() + QLatin1Char('\n')).toUtf8());
    if (saved) {
        Q_EMIT m_session.notifier().said(tr("Saved to %1").arg(path));
    } else {
        Q_EMIT m_session.notifier().failed(saved.error().message);
    }
}

} // namespace keyround
