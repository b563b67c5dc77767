// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/ladder.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/shell/style.h"

#include <QMouseEvent>
#include <QPainter>

namespace keyround {

Ladder::Ladder(QWidget *parent) : QWidget(parent)
{
    setFixedWidth(static_cast<int>(pixelsFor(42.0, this)));
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Expanding);
}

void Ladder::show(StopStep current, const std::array<bool, stopStepCount> &answered)
{
    m_current = current;
    m_answered = answered;
    setAccessibleName(tr("Step %1 of %2: %3")
                          .arg(static_cast<int>(current) + 1)
                          .arg(stopStepCount)
                          .arg(wordFor(current)));
    update();
}

QRect Ladder::rungOf(StopStep step) const
{
    const int index = static_cast<int>(step);
    const int top = height() * index / stopStepCount;
    const int bottom = height() * (index + 1) / stopStepCount;
    return {0, top, width(), bottom - top};
}

void Ladder::paintEvent(QPaintEvent *)
{
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(TruckColours::of(this).rule, 3));
    const int rail = rungOf(StopStep::GetThere).height() / 2;
    const int across = TruckScale::of(this).text;
    painter.drawLine(across, rail, across, height() - rail);
    for (int i = 0; i < stopStepCount; ++i) {
        paintRung(painter, static_cast<StopStep>(i));
    }
}

void Ladder::paintRung(QPainter &painter, StopStep step) const
{
    const TruckScale scale = TruckScale::of(this);
    const TruckColours &colours = TruckColours::of(this);
    const QRectF rung = QRectF(rungOf(step)).adjusted(1, scale.gap / 2.0, -1, -scale.gap / 2.0);
    const bool here = step == m_current;
    if (here) {
        painter.setPen(Qt::NoPen);
        painter.setBrush(colours.act);
        painter.drawRoundedRect(rung, 6, 6);
    }
    const QColor ink = here ? colours.onAct : colours.ink;
    const double side = scale.text * 1.1;
    const QRectF mark(scale.text - side / 2, rung.center().y() - side / 2, side, side);
    painter.setBrush(here ? colours.act : colours.ground);
    painter.setPen(QPen(ink, 2));
    painter.drawEllipse(mark);
    if (isAnswered(step)) {
        drawTick(painter, mark.adjusted(4, 4, -4, -4), ink);
    }
    painter.setPen(ink);
    painter.setFont(truckFont(this, TextSize::Small, here));
    painter.drawText(rung.adjusted(scale.text * 2, 0, -4, 0), Qt::AlignVCenter | Qt::AlignLeft,
                     wordFor(step));
}

void Ladder::mousePressEvent(QMouseEvent *event)
{
    for (int i = 0; i < stopStepCount; ++i) {
        if (rungOf(static_cast<StopStep>(i)).contains(event->pos())) {
            Q_EMIT chosen(static_cast<StopStep>(i));
            return;
        }
    }
}

} // namespace keyround
