// SPDX-License-Identifier: GPL-3.0-or-later
// What is tapped while turning: the two directions, the ring, one very large target for a turn, a
// quarter, and taking one back. A tap counts when it goes down, so that a hand that slides off has
// counted; a held key counts once; a press that the screen reports twice counts once.
//
// Keys: Space a turn, Q a quarter, Backspace takes one back, C and O begin a pass.
#pragma once

#include "app/truck/turn_counter.h"

#include <QHash>
#include <QWidget>

class QKeyEvent;
class QMouseEvent;

namespace keyround {

class BigButton;
class CountRing;

class CountPad final : public QWidget
{
    Q_OBJECT
public:
    /// The prefix stands before the names of its parts: two pads may be on the screen.
    CountPad(StopDesk &desk, TurnCounter &counter, const QString &prefix,
             QWidget *parent = nullptr);

    void showForm();
    [[nodiscard]] QWidget *target() const;
    bool takeKey(QKeyEvent *event);

protected:
    bool eventFilter(QObject *watched, QEvent *event) override;

private:
    void buildDirections();
    void buildCounters();
    void buildLayout();
    void showDirection();
    [[nodiscard]] bool isReportedTwice(const QMouseEvent *event);

    StopDesk &m_desk;
    TurnCounter &m_counter;
    QString m_prefix;
    BigButton *m_closing;
    BigButton *m_opening;
    CountRing *m_ring;
    BigButton *m_turn;
    BigButton *m_quarter;
    BigButton *m_back;
    quint64 m_lastPress = 0; ///< the screen's time in milliseconds
};

} // namespace keyround
