// SPDX-License-Identifier: GPL-3.0-or-later
// The steps of a stop as a thin ladder: which are answered (tick), where one is (filled bar),
// what is to come (ring). A rung can be tapped to go there; the full-size targets for going on and
// back are at the foot of the page, because eight of 20 mm do not fit every screen's height.
#pragma once

#include "app/truck/stop_form.h"

#include <QWidget>

#include <array>

namespace keyround {

class Ladder final : public QWidget
{
    Q_OBJECT
public:
    explicit Ladder(QWidget *parent = nullptr);

    void show(StopStep current, const std::array<bool, stopStepCount> &answered);
    [[nodiscard]] StopStep current() const { return m_current; }
    [[nodiscard]] bool isAnswered(StopStep step) const
    {
        return m_answered[static_cast<std::size_t>(step)];
    }
    [[nodiscard]] QRect rungOf(StopStep step) const;

Q_SIGNALS:
    void chosen(StopStep step);

protected:
    void paintEvent(QPaintEvent *event) override;
    void mousePressEvent(QMouseEvent *event) override;

private:
    void paintRung(QPainter &painter, StopStep step) const;

    StopStep m_current = StopStep::GetThere;
    std::array<bool, stopStepCount> m_answered{};
};

} // namespace keyround
