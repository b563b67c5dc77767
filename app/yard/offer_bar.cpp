// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/offer_bar.h"

#include "app/dialogs/plain_label.h"
#include "app/yard/order_offer.h"
#include "app/yard/round_desk.h"

#include <QHBoxLayout>
#include <QPushButton>

namespace keyround {

OfferBar::OfferBar(OrderOffer &offer, RoundDesk &desk, QWidget *parent)
    : QFrame(parent), m_offer(offer), m_desk(desk), m_words(plainCaption({}, {}, this)),
      m_look(new QPushButton(tr("Look"), this)), m_take(new QPushButton(tr("Take it"), this)),
      m_putAway(new QPushButton(tr("Keep ours"), this))
{
    setProperty("role", QStringLiteral("marked"));
    setObjectName(QStringLiteral("offer"));
    m_words->setObjectName(QStringLiteral("offerWords"));
    m_look->setObjectName(QStringLiteral("offerLook"));
    m_look->setCheckable(true);
    m_look->setToolTip(
        tr("Shows the other order on the map and on the ribbon; nothing is changed"));
    m_take->setObjectName(QStringLiteral("offerTake"));
    m_take->setToolTip(tr("Puts the stops into that order; undo brings ours back"));
    m_putAway->setObjectName(QStringLiteral("offerPutAway"));
    auto *row = new QHBoxLayout(this);
    row->setContentsMargins(10, 3, 6, 3);
    row->addWidget(m_words, 1);
    for (QPushButton *button : {m_look, m_take, m_putAway}) {
        button->setProperty("role", QStringLiteral("small"));
        row->addWidget(button);
    }
    connect(&offer, &OrderOffer::changed, this, &OfferBar::refresh);
    connect(m_look, &QPushButton::toggled, this, [this](bool on) {
        m_look->setText(on ? tr("Back to ours") : tr("Look"));
        Q_EMIT lookChanged();
    });
    connect(m_putAway, &QPushButton::clicked, &offer, &OrderOffer::putAway);
    connect(m_take, &QPushButton::clicked, this, [this] {
        if (const auto found = m_offer.found()) {
            m_look->setChecked(false);
            if (const Status done = m_desk.change(found->round, tr("Take the better order"));
                !done) {
                Q_EMIT failed(done.error().message);
            }
        }
    });
    refresh();
}

bool OfferBar::isLooking() const
{
    return m_look->isChecked() && m_offer.found().has_value();
}

void OfferBar::refresh()
{
    const auto &found = m_offer.found();
    if (!found) {
        m_look->setChecked(false);
    } else {
        m_words->setText(tr("A better order %1.").arg(wordsFor(found->gain)));
    }
    setVisible(found.has_value());
    if (m_look->isChecked()) {
        Q_EMIT lookChanged();
    }
}

} // namespace keyround
