// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/shut_line.h"

#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"
#include "app/shell/session.h"
#include "app/shut/shut_words.h"

#include <QHBoxLayout>
#include <QPushButton>

namespace keyround {

ShutLine::ShutLine(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_label(plainLabel({}, QStringLiteral("danger"), this)),
      m_go(new QPushButton(tr("Go to it"), this))
{
    m_label->setObjectName(QStringLiteral("openShuts"));
    m_go->setObjectName(QStringLiteral("goToShut"));
    m_go->setAccessibleName(tr("Go to the open shut"));
    auto *row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(0);
    row->addWidget(m_label, 1);
    row->addWidget(m_go);
    connect(m_go, &QPushButton::clicked, this, [this] { Q_EMIT shutAsked(m_first); });
    const Notifier &notifier = session.notifier();
    for (auto signal :
         {&Notifier::projectChanged, &Notifier::shutsChanged, &Notifier::valvesChanged}) {
        connect(&notifier, signal, this, &ShutLine::refresh);
    }
    refresh();
}

void ShutLine::refresh()
{
    const OpenShutsLine line = m_session.isOpen() ? openShutsLine(m_session) : OpenShutsLine{};
    m_first = line.first;
    m_label->setText(line.words);
    restyle(m_label, "role", line.isDanger ? QStringLiteral("danger") : QStringLiteral("caution"));
    setVisible(!line.words.isEmpty());
}

} // namespace keyround
