// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/count_ring.h"

#include "app/dialogs/truck_look.h"
#include "app/shell/style.h"

#include <QPainter>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace keyround {

namespace {

constexpr double baselineDegrees = 300.0; ///< leaves room to see what lies beyond
constexpr double fullCircle = 360.0;

} // namespace

CountRing::CountRing(QWidget *parent) : QWidget(parent)
{
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
    setAccessibleName(tr("Turns counted"));
}

void CountRing::setGoal(const Baseline &baseline, const Tolerance &tolerance)
{
    m_baseline = baseline;
    m_tolerance = tolerance;
    update();
}

void CountRing::setTurning(bool clockwise, const QString &word)
{
    m_clockwise = clockwise;
    m_word = word;
    update();
}

void CountRing::setCount(QuarterTurns count)
{
    m_count = count;
    setAccessibleDescription(turnsText(count) + QLatin1Char(' ') + standingWords());
    update();
}

int CountRing::bandFrom() const
{
    return m_baseline.least.value -
           allowance(m_tolerance, m_baseline.most).value; // as judge() has it
}

int CountRing::bandTo() const
{
    return m_baseline.most.value + allowance(m_tolerance, m_baseline.most).value;
}

double CountRing::degreesFor(int quarterTurns) const
{
    if (!hasGoal() || m_baseline.most.value <= 0) {
        return 0.0;
    }
    return std::clamp(baselineDegrees * quarterTurns / m_baseline.most.value, 0.0, fullCircle);
}

double CountRing::bandFromDegrees() const
{
    return degreesFor(bandFrom());
}

double CountRing::bandToDegrees() const
{
    return degreesFor(bandTo());
}

QString CountRing::standingWords() const
{
    if (!hasGoal()) {
        return {};
    }
    if (m_count.value < bandFrom()) {
        return tr("%1 more to the band").arg(turnsText({bandFrom() - m_count.value}));
    }
    return m_count.value <= bandTo() ? tr("within the band") : tr("beyond the band");
}

QSize CountRing::minimumSizeHint() const
{
    const int side = static_cast<int>(pixelsFor(55.0, this));
    return {side, side};
}

void CountRing::paintEvent(QPaintEvent *)
{
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const double side = std::min(width(), height()) - 8.0;
    const double thick = side * 0.10;
    const QRectF circle(width() / 2.0 - side / 2 + thick / 2, height() / 2.0 - side / 2 + thick / 2,
                        side - thick, side - thick);
    paintArcs(painter, circle, thick);
    const double inset = thick * 0.8 + side * 0.06;
    paintCount(painter, circle.adjusted(inset, inset, -inset, -inset));
}

void CountRing::paintArcs(QPainter &painter, const QRectF &circle, double thick) const
{
    // Qt's angles begin at the right and grow counterclockwise; ours begin at the top and grow in
    // the direction of turning.
    const double sign = m_clockwise ? -1.0 : 1.0;
    const TruckColours &colours = TruckColours::of(this);
    const auto arc = [&](double from, double to, const QColor &colour, double width) {
        painter.setPen(QPen(colour, width, Qt::SolidLine, Qt::FlatCap));
        painter.drawArc(circle, static_cast<int>((90.0 + sign * from) * 16),
                        static_cast<int>(sign * (to - from) * 16));
    };
    arc(0, fullCircle, colours.quietInk, thick + 3);
    arc(0, fullCircle, colours.card, thick);
    if (!hasGoal()) {
        return;
    }
    arc(bandFromDegrees(), bandToDegrees(), colours.band, thick);
    // The fill is narrower than the band, so that the band shows beside it.
    arc(0, filledDegrees(), colours.act, thick * 0.62);
    const auto tick = [&](double degrees, double length) {
        const double angle = (90.0 + sign * degrees) * std::numbers::pi / 180.0;
        const QPointF out(std::cos(angle), -std::sin(angle));
        const double radius = circle.width() / 2;
        painter.setPen(QPen(colours.ink, 3));
        painter.drawLine(circle.center() + out * (radius - length),
                         circle.center() + out * (radius + thick / 2));
    };
    tick(bandFromDegrees(), thick / 2);
    tick(bandToDegrees(), thick / 2);
    tick(degreesFor(m_baseline.most.value), thick);
}

void CountRing::paintCount(QPainter &painter, const QRectF &inside) const
{
    QFont number = truckFont(this, TextSize::Huge, true);
    const QString count = turnsText(m_count);
    number.setPixelSize(std::max(10, static_cast<int>(inside.height() * 0.42)));
    while (number.pixelSize() > 10 &&
           QFontMetricsF(number).horizontalAdvance(count) > inside.width() * 0.92) {
        number.setPixelSize(number.pixelSize() - 1);
    }
    painter.setPen(TruckColours::of(this).ink);
    painter.setFont(number);
    const double middle = inside.height() * 0.42;
    painter.drawText(
        QRectF(inside.left(), inside.center().y() - middle / 2, inside.width(), middle),
        Qt::AlignCenter, count);
    QFont words = truckFont(this, TextSize::Normal);
    painter.setFont(words);
    const double line = QFontMetricsF(words).height();
    const double narrow = inside.width() * 0.72;
    const double left = inside.center().x() - narrow / 2;
    painter.drawText(QRectF(left, inside.center().y() - middle / 2 - line, narrow, line),
                     Qt::AlignCenter, m_word);
    QString goal = tr("no baseline yet");
    if (hasGoal()) {
        goal = m_baseline.least == m_baseline.most
                   ? tr("of %1").arg(turnsText(m_baseline.most))
                   : tr("of %1 to %2").arg(turnsText(m_baseline.least), turnsText(m_baseline.most));
    }
    const QRectF below(left, inside.center().y() + middle / 2, narrow, line * 3);
    painter.drawText(below, Qt::AlignHCenter | Qt::AlignTop | Qt::TextWordWrap,
                     goal + QLatin1Char('\n') + standingWords());
}

} // namespace keyround
