// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/shut_place.h"

#include "app/dialogs/truck_look.h"
#include "app/shell/session.h"
#include "app/shut/break_page.h"
#include "app/shut/matters_page.h"
#include "app/shut/network_page.h"
#include "app/shut/shut_desk.h"

#include <QStackedWidget>
#include <QVBoxLayout>

namespace keyround {

ShutPlace::ShutPlace(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_desk(new ShutDesk(session, this)),
      m_pages(new QStackedWidget(this)), m_break(new BreakPage(session, *m_desk, this)),
      m_network(new NetworkPage(session, this)), m_matters(new MattersPage(session, this))
{
    setObjectName(QStringLiteral("shutPlace"));
    m_pages->addWidget(m_break);
    m_pages->addWidget(m_network);
    m_pages->addWidget(m_matters);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_pages);
    connect(m_break, &BreakPage::networkAsked, this, &ShutPlace::showNetwork);
    connect(m_break, &BreakPage::mattersAsked, this, &ShutPlace::showMatters);
    connect(m_network, &NetworkPage::backAsked, this, &ShutPlace::showBreak);
    connect(m_matters, &MattersPage::backAsked, this, &ShutPlace::showBreak);
}

void ShutPlace::showBreak()
{
    m_pages->setCurrentWidget(m_break);
    m_break->focusField();
}

void ShutPlace::showNetwork()
{
    m_pages->setCurrentWidget(m_network);
    m_network->focusField();
}

void ShutPlace::showMatters()
{
    m_pages->setCurrentWidget(m_matters);
    m_matters->focusField();
}

void ShutPlace::openShut(const ShutId &shut)
{
    m_pages->setCurrentWidget(m_break);
    m_break->openShut(shut);
}

} // namespace keyround
