// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/chart_parts.h"

#include "app/shell/style.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr int unlimited = QWIDGETSIZE_MAX;

QFont sized(const QFont &base, double points, bool bold)
{
    QFont font = base;
    font.setPointSizeF(points);
    font.setBold(bold);
    return font;
}

QFont titleFont(const QCustomPlot *plot)
{
    return sized(plot->font(), 12.5, true);
}

QFont wordFont(const QCustomPlot *plot)
{
    return sized(plot->font(), 9.0, false);
}

} // namespace

QBrush fillOf(Condition condition)
{
    return colourOf(condition);
}

QBrush patternOf(Condition condition)
{
    QColor ink = look::ink;
    ink.setAlpha(150);
    switch (condition) {
    case Condition::Serviceable:
        return Qt::NoBrush;
    case Condition::Defect:
        return {ink, Qt::HorPattern};
    case Condition::DoesNotShut:
        return {ink, Qt::BDiagPattern};
    case Condition::DoesNotTurn:
        return {ink, Qt::DiagCrossPattern};
    case Condition::CannotReach:
        return {ink, Qt::VerPattern};
    case Condition::NeverVisited:
        break;
    }
    ink.setAlpha(70);
    return {ink, Qt::FDiagPattern};
}

void TitleElement::setWords(const QString &title, const QString &filter)
{
    m_title = title;
    m_filter = filter;
}

int TitleElement::height() const
{
    const int title = QFontMetrics(titleFont(mParentPlot)).height();
    const int filter = QFontMetrics(wordFont(mParentPlot)).height();
    return title + 6 + (m_filter.isEmpty() ? 0 : filter + 3);
}

QSize TitleElement::minimumOuterSizeHint() const
{
    return {40, height()};
}

QSize TitleElement::maximumOuterSizeHint() const
{
    return {unlimited, height()};
}

void TitleElement::applyDefaultAntialiasingHint(QCPPainter *painter) const
{
    painter->setAntialiasing(true);
}

void TitleElement::draw(QCPPainter *painter)
{
    // Over the key's column too, which begins below.
    QRect area = rect().adjusted(8, 0, 0, 0);
    area.setRight(mParentPlot->viewport().right() - 8);
    painter->setFont(titleFont(mParentPlot));
    painter->setPen(look::ink);
    const QFontMetrics title(painter->font());
    painter->drawText(area, Qt::AlignLeft | Qt::AlignTop | Qt::TextSingleLine,
                      title.elidedText(m_title, Qt::ElideRight, area.width()));
    if (!m_filter.isEmpty()) {
        painter->setFont(wordFont(mParentPlot));
        painter->setPen(look::quietInk);
        painter->drawText(
            area.adjusted(0, title.height() + 3, 0, 0),
            Qt::AlignLeft | Qt::AlignTop | Qt::TextSingleLine,
            QFontMetrics(painter->font()).elidedText(m_filter, Qt::ElideRight, area.width()));
    }
}

QSize KeyElement::minimumOuterSizeHint() const
{
    const QFontMetrics metrics(wordFont(mParentPlot));
    int width = 0;
    for (const Condition condition : m_bands) {
        width = std::max(width, metrics.horizontalAdvance(wordFor(condition)));
    }
    return {width + 74, 40};
}

QSize KeyElement::maximumOuterSizeHint() const
{
    return {minimumOuterSizeHint().width(), unlimited};
}

void KeyElement::applyDefaultAntialiasingHint(QCPPainter *painter) const
{
    painter->setAntialiasing(true);
}

void KeyElement::draw(QCPPainter *painter)
{
    painter->setFont(wordFont(mParentPlot));
    const QFontMetrics metrics(painter->font());
    const int step = std::max(20, metrics.height() + 7);
    int y = rect().top() + 6;
    for (qsizetype i = m_bands.size() - 1; i >= 0; --i) {
        const Condition condition = m_bands[i];
        const QRectF box(rect().left() + 12, y, 26, 14);
        painter->setPen(Qt::NoPen);
        painter->fillRect(box, fillOf(condition));
        painter->fillRect(box, patternOf(condition));
        painter->setPen(QPen(look::ink, 1.0));
        painter->setBrush(Qt::NoBrush);
        painter->drawRect(box);
        drawConditionMark(*painter, condition, {box.right() + 13, box.center().y()}, 5.0);
        painter->setPen(look::ink);
        painter->drawText(QPointF(box.right() + 26,
                                  box.center().y() + (metrics.ascent() - metrics.descent()) / 2.0),
                          wordFor(condition));
        y += step;
    }
}

double WholeTicker::getTickStep(const QCPRange &range)
{
    return std::max(1.0, std::round(QCPAxisTicker::getTickStep(range)));
}

int WholeTicker::getSubTickCount(double /*tickStep*/)
{
    return 0;
}

} // namespace keyround
