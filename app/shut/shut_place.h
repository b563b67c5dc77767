// SPDX-License-Identifier: GPL-3.0-or-later
// The night a main breaks, beside the three places: it is worked from the yard, the truck and from
// home. Three pages: the break itself, how the mains were read, and which valves matter most.
#pragma once

#include "core/common/ids.h"

#include <QWidget>

class QStackedWidget;

namespace keyround {

class BreakPage;
class MattersPage;
class NetworkPage;
class Session;
class ShutDesk;

class ShutPlace final : public QWidget
{
    Q_OBJECT
public:
    explicit ShutPlace(Session &session, QWidget *parent = nullptr);

    void showBreak();
    void showNetwork();
    void showMatters();
    void openShut(const ShutId &shut);

private:
    Session &m_session;
    ShutDesk *m_desk;
    QStackedWidget *m_pages;
    BreakPage *m_break;
    NetworkPage *m_network;
    MattersPage *m_matters;
};

} // namespace keyround
