// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/big_button.h"

#include "app/dialogs/truck_look.h"
#include "app/shell/style.h"

#include <QKeyEvent>
#include <QPainter>

#include <algorithm>
#include <cmath>
#include <utility>

namespace keyround {

BigButton::BigButton(Kind kind, const QString &text, QWidget *parent)
    : QAbstractButton(parent), m_kind(kind)
{
    setText(text);
    setAccessibleName(text);
    setCheckable(kind == Kind::Toggle);
    setFocusPolicy(Qt::StrongFocus);
    // Enter on a toggle goes on to the next step; on everything else it presses.
    m_enterPresses = kind != Kind::Toggle;
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void BigButton::setHint(const QString &hint)
{
    m_hint = hint;
    setAccessibleDescription(hint);
    update();
}

void BigButton::setMark(Mark mark)
{
    m_mark = std::move(mark);
    update();
}

void BigButton::setTextPixels(int pixels)
{
    m_textPixels = pixels;
    update();
}

void BigButton::setTargetMillimetres(double width, double height)
{
    m_widthMillimetres = std::max(20.0, width);
    m_heightMillimetres = std::max(20.0, height);
    updateGeometry();
}

QSize BigButton::sizeHint() const
{
    return {static_cast<int>(std::ceil(pixelsFor(m_widthMillimetres, this))),
            static_cast<int>(std::ceil(pixelsFor(m_heightMillimetres, this)))};
}

QSize BigButton::minimumSizeHint() const
{
    const int target = TruckScale::of(this).target;
    return {target, target};
}

void BigButton::paintGround(QPainter &painter, const QColor &fill, const QColor &edge) const
{
    painter.setRenderHint(QPainter::Antialiasing);
    const TruckColours &colours = TruckColours::of(this);
    const bool focused = hasFocus();
    painter.setPen(QPen(focused ? colours.ink : edge, focused ? 5.0 : 2.0));
    painter.setBrush(fill);
    const double inset = focused ? 2.5 : 1.0;
    painter.drawRoundedRect(QRectF(rect()).adjusted(inset, inset, -inset, -inset), 6, 6);
    if (focused && fill == colours.act) {
        // The edge alone does not show on a filled button: a line within it does.
        painter.setPen(QPen(colours.onAct, 2.0));
        painter.setBrush(Qt::NoBrush);
        painter.drawRoundedRect(QRectF(rect()).adjusted(6, 6, -6, -6), 4, 4);
    }
}

void BigButton::paintEvent(QPaintEvent *)
{
    QPainter painter(this);
    const TruckColours &colours = TruckColours::of(this);
    const bool filled = isEnabled() && (m_kind == Kind::Primary || isChecked());
    QColor fill = filled ? colours.act : colours.card;
    if (isEnabled() && !filled && (isDown() || underMouse())) {
        fill = colours.actTint;
    }
    QColor words = filled ? colours.onAct : isEnabled() ? colours.ink : colours.quietInk;
    if (filled && isDown()) {
        fill = colours.ink;
        words = colours.card;
    }
    paintGround(painter, isEnabled() ? fill : colours.ground,
                isEnabled() ? colours.act : colours.rule);
    paintWords(painter, words);
}

QRectF BigButton::roomForMark() const
{
    const QRectF room = QRectF(rect()).adjusted(10, 6, -10, -6);
    if (!m_mark) {
        return {room.left(), room.top(), 0, 0};
    }
    const double side = std::min(room.height() * 0.7, room.width() * 0.3);
    return {room.left(), room.center().y() - side / 2, side, side};
}

QRectF BigButton::roomForWords() const
{
    QRectF room = QRectF(rect()).adjusted(10, 6, -10, -6);
    if (m_mark) {
        room.setLeft(roomForMark().right() + 10);
    }
    if (!m_hint.isEmpty()) {
        room.setBottom(room.bottom() - QFontMetricsF(truckFont(this, TextSize::Small)).height());
    }
    return room;
}

int BigButton::alignment() const
{
    return (m_kind == Kind::Row ? Qt::AlignLeft : Qt::AlignHCenter) | Qt::AlignVCenter |
           Qt::TextWordWrap;
}

QFont BigButton::fittingFont(const QRectF &room) const
{
    QFont words = truckFont(this, TextSize::Normal, m_kind != Kind::Row);
    if (m_textPixels > 0) {
        words.setPixelSize(m_textPixels);
    }
    const int smallest = truckFont(this, TextSize::Small).pixelSize() * 3 / 4;
    while (words.pixelSize() > smallest) {
        const QRectF needed = QFontMetricsF(words).boundingRect(room, alignment(), text());
        if (needed.height() <= room.height() && needed.width() <= room.width()) {
            break;
        }
        words.setPixelSize(words.pixelSize() - 1);
    }
    return words;
}

bool BigButton::showsAllWords() const
{
    const QRectF room = roomForWords();
    const QRectF needed = QFontMetricsF(fittingFont(room)).boundingRect(room, alignment(), text());
    return needed.height() <= room.height() && needed.width() <= room.width();
}

void BigButton::paintWords(QPainter &painter, const QColor &ink) const
{
    const QRectF whole = QRectF(rect()).adjusted(10, 6, -10, -6);
    QRectF room = roomForWords();
    if (isCheckable() && isChecked()) {
        const double side = std::min(28.0, whole.height() * 0.32);
        const QRectF tick(whole.left(), whole.top(), side, side);
        drawTick(painter, tick, ink);
        const QRectF words =
            QFontMetricsF(fittingFont(room)).boundingRect(room, alignment(), text());
        if (words.intersects(tick)) {
            room.setLeft(tick.right() + 2);
        }
    }
    if (m_mark) {
        m_mark(painter, roomForMark(), ink);
    }
    painter.setPen(ink);
    if (!m_hint.isEmpty()) {
        const QFont small = truckFont(this, TextSize::Small);
        painter.setFont(small);
        const QRectF line(room.left(), room.bottom(), room.width(), whole.bottom() - room.bottom());
        const int across = m_kind == Kind::Row ? Qt::AlignLeft : Qt::AlignHCenter;
        painter.drawText(line, across | Qt::AlignVCenter,
                         QFontMetricsF(small).elidedText(m_hint, Qt::ElideRight, room.width()));
    }
    // Words that do not fit are made smaller before they are cut.
    painter.setFont(fittingFont(room));
    painter.drawText(room, alignment(), text());
}

void BigButton::keyPressEvent(QKeyEvent *event)
{
    const bool space = event->key() == Qt::Key_Space;
    const bool enter = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter;
    if ((space && m_spacePresses) || (enter && m_enterPresses)) {
        if (!event->isAutoRepeat()) {
            click();
        }
        event->accept();
        return;
    }
    if (space || enter) {
        event->ignore();
        return;
    }
    QAbstractButton::keyPressEvent(event);
}

void BigButton::keyReleaseEvent(QKeyEvent *event)
{
    event->ignore();
}

void drawTick(QPainter &painter, const QRectF &where, const QColor &ink)
{
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(ink, where.width() * 0.16, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    const QPointF points[] = {
        {where.left() + where.width() * 0.12, where.top() + where.height() * 0.55},
        {where.left() + where.width() * 0.4, where.top() + where.height() * 0.82},
        {where.left() + where.width() * 0.88, where.top() + where.height() * 0.2}};
    painter.drawPolyline(points, 3);
    painter.restore();
}

} // namespace keyround
