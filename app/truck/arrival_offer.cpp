// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/arrival_offer.h"

#include "app/dialogs/big_button.h"
#include "app/position/position_feed.h"
#include "app/truck/here_words.h"

#include <QVBoxLayout>

#include <utility>

namespace keyround {

ArrivalOffer::ArrivalOffer(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_open(new BigButton(BigButton::Kind::Primary, {}, this))
{
    m_open->setObjectName(QStringLiteral("arrival-offer"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_open);
    connect(m_open, &QAbstractButton::clicked, this, [this] { Q_EMIT stopAsked(m_offered); });
    connect(&session.positions(), &PositionFeed::changed, this, &ArrivalOffer::look);
    hide();
}

void ArrivalOffer::setStops(std::vector<ValveId> stops)
{
    m_stops = std::move(stops);
    look();
}

void ArrivalOffer::look()
{
    m_offered = m_session.isOpen() ? arrivedAt(m_session, m_stops) : ValveId{};
    const Valve *valve = m_session.isOpen() ? m_session.valve(m_offered) : nullptr;
    if (valve != nullptr) {
        m_open->setText(tr("You are at valve %1: %2. Open its stop")
                            .arg(valve->number, hereOf(m_session, *valve).words));
        m_open->setAccessibleName(m_open->text());
    }
    setVisible(valve != nullptr);
}

} // namespace keyround
