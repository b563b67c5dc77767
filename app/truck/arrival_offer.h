// SPDX-License-Identifier: GPL-3.0-or-later
// The stop that offers itself once the truck stands within the arrival distance of it. It shows
// only while a current fix says so.
#pragma once

#include "app/shell/session.h"

#include <QWidget>

namespace keyround {

class BigButton;

class ArrivalOffer final : public QWidget
{
    Q_OBJECT
public:
    explicit ArrivalOffer(Session &session, QWidget *parent = nullptr);

    /// Among these; empty: nothing is offered.
    void setStops(std::vector<ValveId> stops);

Q_SIGNALS:
    void stopAsked(const ValveId &valve);

private:
    void look();

    Session &m_session;
    std::vector<ValveId> m_stops;
    ValveId m_offered;
    BigButton *m_open;
};

} // namespace keyround
