// SPDX-License-Identifier: GPL-3.0-or-later
// A better order of the round's stops, looked for in the background after every change and offered
// when it saves enough to be worth a word. The worker gets values and the drive graph, which never
// changes once it is built; it touches neither session nor project. What it finds for a round that
// has changed meanwhile is thrown away.
#pragma once

#include "app/commands/round_commands.h"

#include <QFutureWatcher>
#include <QObject>
#include <QTimer>

#include <optional>

namespace keyround {

class RoundDesk;
class Session;

/// What another order of the same stops gains; seconds, positive when it is better.
struct OrderGain
{
    double driving = 0;
    double finish = 0;
    int misses = 0; ///< busy hours and late breaks that it meets and the other does not
};
[[nodiscard]] OrderGain gainOf(const DayPlan &now, const DayPlan &other);
/// A minute of driving or of the day, or a street's hours met; and nothing else worse for it.
[[nodiscard]] bool isWorthOffering(const OrderGain &gain);
/// "saves 12 min of driving", "ends the day 9 min earlier".
[[nodiscard]] QString wordsFor(const OrderGain &gain);

class OrderOffer final : public QObject
{
    Q_OBJECT
public:
    struct Found
    {
        Round before; ///< as it lay on the desk
        Round round;  ///< the same in the better order
        DayPlan plan;
        OrderGain gain;
    };

    OrderOffer(Session &session, RoundDesk &desk, QObject *parent);
    ~OrderOffer() override;

    [[nodiscard]] const std::optional<Found> &found() const { return m_found; }
    [[nodiscard]] bool isSearching() const { return m_wait.isActive() || m_isAtWork; }
    /// Not wanted: nothing more is offered for the round as it stands.
    void putAway();

Q_SIGNALS:
    void changed();  ///< there is an offer, or it is gone
    void searched(); ///< a search has come to its end, with or without an offer

private:
    struct Answer
    {
        Round round;
        std::optional<DayPlan> plan;
    };

    void deskChanged();
    void begin();
    void take();
    void setFound(std::optional<Found> found);

    Session &m_session;
    RoundDesk &m_desk;
    QTimer m_wait; ///< a hand that goes on changing is left in peace
    QFutureWatcher<Answer> m_watcher;
    bool m_isAtWork = false; ///< until the answer was taken
    std::optional<Found> m_found;
    std::optional<Round> m_unwanted; ///< the round for which the offer was put away
};

} // namespace keyround
