// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/condition_chart_parts.h"

#include "app/shell/style.h"

#include <QToolTip>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

namespace keyround {

namespace {

constexpr double barWidth = 0.82;

} // namespace

ConditionChart::Parts::Parts(ConditionChart &owner) : chart(owner), plot(new QCustomPlot(&owner))
{
    build();
    QObject::connect(plot, &QCustomPlot::beforeReplot, plot,
                     [this] { thinTicks(axisPixels(plot->width())); });
    QObject::connect(plot->xAxis, qOverload<const QCPRange &>(&QCPAxis::rangeChanged), plot,
                     [this](const QCPRange &range) { keepWithin(range); });
    QObject::connect(plot, &QCustomPlot::mousePress, plot, [this](QMouseEvent *event) {
        pressedAt = event->pos();
        chart.setFocus(Qt::MouseFocusReason);
    });
    QObject::connect(plot, &QCustomPlot::mouseRelease, plot, [this](QMouseEvent *event) {
        const int period = periodAt(event->position());
        if ((event->pos() - pressedAt).manhattanLength() <= 4 && period >= 0) {
            click(period);
        }
    });
    QObject::connect(plot, &QCustomPlot::mouseMove, plot, [this](QMouseEvent *event) {
        const int period = event->buttons() == Qt::NoButton ? periodAt(event->position()) : -1;
        if (period < 0) {
            QToolTip::hideText();
        } else {
            QToolTip::showText(event->globalPosition().toPoint(), chart.wordsFor(period), plot);
        }
    });
}

void ConditionChart::Parts::build()
{
    plot->setFocusPolicy(Qt::NoFocus);
    plot->setBackground(look::card);
    plot->setInteractions(QCP::iRangeDrag | QCP::iRangeZoom);
    plot->axisRect()->setRangeDrag(Qt::Horizontal);
    plot->axisRect()->setRangeZoom(Qt::Horizontal);
    title = new TitleElement(plot);
    key = new KeyElement(plot);
    plot->plotLayout()->insertRow(0);
    plot->plotLayout()->addElement(0, 0, title);
    plot->plotLayout()->addElement(1, 1, key);
    plot->plotLayout()->setColumnStretchFactor(1, 0.001);

    QFont small = plot->font();
    small.setPointSizeF(9.0);
    for (QCPAxis *axis : {plot->xAxis, plot->yAxis}) {
        axis->setTickLabelFont(small);
        axis->setLabelFont(small);
        axis->setTickLabelColor(look::ink);
        axis->setLabelColor(look::ink);
        axis->setBasePen(QPen(look::ink, 1.0));
        axis->setTickPen(QPen(look::ink, 1.0));
        axis->grid()->setPen(QPen(look::rule, 1.0));
        axis->grid()->setZeroLinePen(Qt::NoPen);
    }
    plot->xAxis->grid()->setVisible(false);
    plot->xAxis->setSubTicks(false);
    plot->yAxis->setTicker(QSharedPointer<WholeTicker>::create());

    mark = new QCPItemRect(plot);
    mark->setLayer(QStringLiteral("grid"));
    mark->setBrush(look::waterTint);
    mark->setPen(QPen(look::water, 1.5));
    for (QCPItemPosition *corner : {mark->topLeft, mark->bottomRight}) {
        corner->setTypeY(QCPItemPosition::ptAxisRectRatio);
    }
    mark->setVisible(false);

    empty = new QCPItemText(plot);
    empty->position->setType(QCPItemPosition::ptAxisRectRatio);
    empty->position->setCoords(0.5, 0.5);
    empty->setColor(look::quietInk);
    QFont words = plot->font();
    words.setPointSizeF(11.0);
    empty->setFont(words);
}

int ConditionChart::Parts::total(int period) const
{
    const PeriodCounts &counts = picture.series[static_cast<size_t>(period)];
    return std::accumulate(
        picture.bands.begin(), picture.bands.end(), 0,
        [&](int sum, Condition condition) { return sum + counts.of(condition); });
}

/// Two stacks of one shape: fills with an outline, and over them patterns.
void ConditionChart::Parts::buildBands()
{
    plot->clearPlottables();
    bars.clear();
    QCPBars *fillBelow = nullptr;
    QCPBars *patternBelow = nullptr;
    for (const Condition condition : std::as_const(picture.bands)) {
        auto *fill = new QCPBars(plot->xAxis, plot->yAxis);
        auto *pattern = new QCPBars(plot->xAxis, plot->yAxis);
        fill->setBrush(fillOf(condition));
        fill->setPen(QPen(look::ink, 0.8));
        pattern->setBrush(patternOf(condition));
        pattern->setPen(Qt::NoPen);
        for (QCPBars *each : {fill, pattern}) {
            each->setWidth(barWidth);
            each->setAntialiased(false);
            bars << each;
        }
        if (fillBelow != nullptr) {
            fill->moveAbove(fillBelow);
            pattern->moveAbove(patternBelow);
        }
        fillBelow = fill;
        patternBelow = pattern;
    }
}

void ConditionChart::Parts::setData()
{
    QVector<double> keys(count());
    std::iota(keys.begin(), keys.end(), 0.0);
    for (qsizetype band = 0; band < picture.bands.size(); ++band) {
        QVector<double> values;
        for (const PeriodCounts &period : picture.series) {
            values << period.of(picture.bands[band]);
        }
        bars[2 * band]->setData(keys, values, true);
        bars[2 * band + 1]->setData(keys, values, true);
    }
}

void ConditionChart::Parts::setAxes()
{
    int most = 0;
    for (int period = 0; period < count(); ++period) {
        most = std::max(most, total(period));
    }
    const bool nothing = most == 0;
    // Axes without figures look like a chart that failed.
    const bool framed = !picture.series.empty();
    plot->xAxis->setVisible(framed);
    plot->yAxis->setVisible(framed);
    plot->yAxis->grid()->setVisible(framed);
    key->setVisible(framed);
    empty->setVisible(nothing);
    empty->setText(picture.emptyWords.isEmpty() ? ConditionChart::tr("Nothing to count.")
                                                : picture.emptyWords);
    plot->yAxis->setRange(0, std::max(4.0, most * 1.06));
    plot->yAxis->setLabel(picture.axisWords.isEmpty() ? ConditionChart::tr("Valves")
                                                      : picture.axisWords);
    const QString first = picture.series.empty() ? QString() : picture.series.front().period;
    plot->xAxis->setLabel(first.contains(QLatin1Char('Q'))   ? ConditionChart::tr("Quarter")
                          : first.contains(QLatin1Char('-')) ? ConditionChart::tr("Month")
                                                             : ConditionChart::tr("Year"));
    plot->xAxis->setRange(wholeRange());
}

/// Time can be stretched and moved, but never out of the picture.
void ConditionChart::Parts::keepWithin(const QCPRange &range)
{
    const QCPRange whole = wholeRange();
    const double size = std::clamp(range.size(), std::min(2.2, whole.size()), whole.size());
    const double lower = std::clamp(range.lower, whole.lower, whole.upper - size);
    if (std::abs(lower - range.lower) > 1e-9 || std::abs(size - range.size()) > 1e-9) {
        plot->xAxis->setRange(lower, lower + size);
    }
}

void ConditionChart::Parts::thinTicks(double pixels)
{
    const QFontMetricsF metrics(plot->xAxis->tickLabelFont());
    const double width = metrics.horizontalAdvance(QStringLiteral("2024-Q3")) + 14;
    const double perPeriod = pixels / plot->xAxis->range().size();
    int every = 1;
    for (const int step : {2, 3, 4, 6, 12, 24, 48, 120}) {
        if (perPeriod * every < width) {
            every = step;
        }
    }
    auto ticker = QSharedPointer<QCPAxisTickerText>::create();
    for (int period = 0; period < count(); period += every) {
        ticker->addTick(period, picture.series[static_cast<size_t>(period)].period);
    }
    plot->xAxis->setTicker(ticker);
}

void ConditionChart::Parts::chosenChanged()
{
    mark->setVisible(chosen >= 0);
    mark->topLeft->setCoords(chosen - 0.5, 0.0);
    mark->bottomRight->setCoords(chosen + 0.5, 1.0);
    plot->replot();
}

int ConditionChart::Parts::periodAt(const QPointF &at) const
{
    if (!plot->axisRect()->rect().contains(at.toPoint())) {
        return -1;
    }
    const int period = static_cast<int>(std::lround(plot->xAxis->pixelToCoord(at.x())));
    return period >= 0 && period < count() ? period : -1;
}

void ConditionChart::Parts::zoomAboutMiddle(double factor)
{
    plot->xAxis->scaleRange(factor, plot->xAxis->range().center());
    plot->replot();
}

void ConditionChart::Parts::click(int period)
{
    Q_EMIT chart.periodClicked(period);
}

void ConditionChart::Parts::render(QCPPainter &painter, const QSize &size)
{
    const bool marked = mark->visible();
    mark->setVisible(false);
    thinTicks(axisPixels(size.width()));
    plot->toPainter(&painter, size.width(), size.height());
    mark->setVisible(marked);
    plot->replot(QCustomPlot::rpQueuedReplot);
}

} // namespace keyround
