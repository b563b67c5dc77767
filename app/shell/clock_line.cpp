// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shell/clock_line.h"

#include "app/shell/session.h"
#include "core/fieldlog/clock_check.h"

#include <QTimer>

namespace keyround {

ClockLine::ClockLine(Session &session, QWidget *parent) : QLabel(parent), m_session(session)
{
    setTextFormat(Qt::PlainText);
    setWordWrap(true);
    setProperty("role", QStringLiteral("danger"));
    setObjectName(QStringLiteral("clockWarning"));
    constexpr int eachMinute = 60 * 1000;
    auto *timer = new QTimer(this);
    connect(timer, &QTimer::timeout, this, &ClockLine::refresh);
    timer->start(eachMinute);
    for (auto signal : {&Notifier::projectChanged, &Notifier::visitsChanged}) {
        connect(&session.notifier(), signal, this, &ClockLine::refresh);
    }
    refresh();
}

void ClockLine::refresh()
{
    const QString words =
        m_session.isOpen() ? wordsFor(checkClock(m_session.now(), m_session.project().lastStamp()))
                           : QString();
    setText(words);
    setVisible(!words.isEmpty());
}

} // namespace keyround
