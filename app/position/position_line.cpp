// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/position/position_line.h"

#include "app/dialogs/plain_label.h"
#include "app/position/position_feed.h"
#include "app/position/position_panel.h"
#include "app/shell/session.h"
#include "app/shell/style.h"

#include <QPainter>

namespace keyround {

namespace {

constexpr int margin = 10;
constexpr int markRadius = 6;

bool needsSomebody(FixState state)
{
    return state == FixState::Old || state == FixState::Lost;
}

} // namespace

void drawFixMark(QPainter &painter, FixState state, const QPointF &centre, double radius)
{
    const QRectF box(centre - QPointF(radius, radius), QSizeF(2 * radius, 2 * radius));
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const QColor colour = needsSomebody(state) ? look::attention : look::water;
    painter.setPen(
        QPen(state == FixState::Current || needsSomebody(state) ? colour : look::quietInk, 2.0));
    painter.setBrush(state == FixState::Current ? QBrush(colour) : QBrush(look::card));
    painter.drawEllipse(box);
    if (state == FixState::Old) {
        painter.setBrush(colour);
        painter.drawPie(box, 90 * 16, 180 * 16);
    } else if (state == FixState::Lost) {
        painter.drawLine(box.topLeft() - QPointF(1, 1), box.bottomRight() + QPointF(1, 1));
    }
    painter.restore();
}

PositionLine::PositionLine(Session &session, QWidget *parent)
    : QAbstractButton(parent), m_session(session)
{
    setObjectName(QStringLiteral("positionLine"));
    setCursor(Qt::PointingHandCursor);
    // A line to read; the keyboard reaches the same page by the menu, and the stop keeps its order.
    setFocusPolicy(Qt::NoFocus);
    setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);
    connect(&session.positions(), &PositionFeed::changed, this, &PositionLine::refresh);
    connect(&session.notifier(), &Notifier::settingsChanged, this, &PositionLine::refresh);
    connect(&session.notifier(), &Notifier::projectChanged, this, &PositionLine::refresh);
    connect(this, &QAbstractButton::clicked, this,
            [this] { PositionPanel::openBeside(this, m_session); });
    refresh();
}

void PositionLine::refresh()
{
    const PositionFeed &feed = m_session.positions();
    const QString words = feed.words(m_session.isOpen() ? m_session.units() : UnitSystem::Us);
    m_state = feed.state();
    // The whole of it is drawn here: a button's own text would read & as a shortcut.
    setAccessibleName(words);
    setToolTip(plainToolTip(tr("%1. Press to choose the receiver.").arg(words)));
    update();
}

QSize PositionLine::sizeHint() const
{
    return {420, fontMetrics().height() + 8};
}

QSize PositionLine::minimumSizeHint() const
{
    return {120, sizeHint().height()};
}

void PositionLine::paintEvent(QPaintEvent * /*event*/)
{
    QPainter painter(this);
    if (needsSomebody(m_state)) {
        painter.fillRect(rect(), look::attentionTint);
    } else if (underMouse()) {
        painter.fillRect(rect(), look::waterTint);
    }
    drawFixMark(painter, m_state, QPointF(margin + markRadius, height() / 2.0), markRadius);
    QFont shown = font();
    shown.setBold(needsSomebody(m_state));
    painter.setFont(shown);
    painter.setPen(m_state == FixState::NoReceiver ? look::quietInk : look::ink);
    const QRect area = rect().adjusted(margin + 2 * markRadius + 8, 0, -margin, 0);
    painter.drawText(
        area, Qt::AlignVCenter | Qt::AlignLeft | Qt::TextSingleLine,
        QFontMetrics(shown).elidedText(accessibleName(), Qt::ElideRight, area.width()));
}

} // namespace keyround
