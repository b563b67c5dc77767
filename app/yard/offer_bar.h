// SPDX-License-Identifier: GPL-3.0-or-later
// The line that says that a better order was found, and what can be done with it: look at it, take
// it (one undo step), or put it away. It is there only while there is such an order.
#pragma once

#include "core/common/result.h"

#include <QFrame>

class QLabel;
class QPushButton;

namespace keyround {

class OrderOffer;
class RoundDesk;

class OfferBar final : public QFrame
{
    Q_OBJECT
public:
    OfferBar(OrderOffer &offer, RoundDesk &desk, QWidget *parent = nullptr);

    /// The better order is shown in the place of the desk's own.
    [[nodiscard]] bool isLooking() const;

Q_SIGNALS:
    void lookChanged();
    void failed(const QString &message);

private:
    void refresh();

    OrderOffer &m_offer;
    RoundDesk &m_desk;
    QLabel *m_words;
    QPushButton *m_look;
    QPushButton *m_take;
    QPushButton *m_putAway;
};

} // namespace keyround
