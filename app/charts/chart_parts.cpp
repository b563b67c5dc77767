// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/chart_parts.h"

#include "app/charts/axis_names.h"
#include "app/charts/series_plottable.h"
#include "app/dialogs/plain_label.h"
#include "app/shell/style.h"

#include <QHeaderView>
#include <QStackedLayout>
#include <QTableView>
#include <QToolTip>

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr double pointReach = 14.0; ///< pixels from a point at which it is still meant

/// A column is marked behind the data, from top to bottom; anything else is framed in front.
void placeMark(QCPItemRect &mark, const ChartItem &item, double padX, double padY)
{
    const auto type =
        item.isColumn() ? QCPItemPosition::ptAxisRectRatio : QCPItemPosition::ptPlotCoords;
    mark.topLeft->setTypeY(type);
    mark.bottomRight->setTypeY(type);
    mark.setLayer(item.isColumn() ? QStringLiteral("grid") : QStringLiteral("overlay"));
    mark.setBrush(item.isColumn() ? QBrush(look::waterTint) : QBrush(Qt::NoBrush));
    mark.setPen(QPen(look::water, item.isColumn() ? 1.5 : 2.5));
    if (item.isColumn()) {
        mark.topLeft->setCoords(item.x, 0.0);
        mark.bottomRight->setCoords(item.x2, 1.0);
    } else {
        mark.topLeft->setCoords(item.x - padX, item.y2 + padY);
        mark.bottomRight->setCoords(item.x2 + padX, item.y - padY);
    }
}

} // namespace

Chart::Parts::Parts(Chart &owner) : chart(owner), plot(new QCustomPlot(&owner))
{
    build();
    buildTable();
    listenToPlot();
}

void Chart::Parts::build()
{
    plot->setFocusPolicy(Qt::NoFocus);
    plot->setMinimumSize(60, 40); // it complains of painting on nothing
    plot->setBackground(look::card);
    plot->setInteractions(QCP::iRangeDrag | QCP::iRangeZoom);
    title = new TitleElement(plot);
    key = new KeyElement(plot);
    under = new UnderAxisElement(plot);
    plot->plotLayout()->insertRow(0);
    plot->plotLayout()->addElement(0, 0, title);
    plot->plotLayout()->addElement(1, 1, key);
    plot->plotLayout()->addElement(2, 0, under);
    plot->plotLayout()->setColumnStretchFactor(1, 0.001);
    plot->plotLayout()->setRowSpacing(2);

    QFont small = plot->font();
    small.setPointSizeF(9.0);
    for (QCPAxis *axis : {plot->xAxis, plot->yAxis}) {
        axis->setTickLabelFont(small);
        axis->setLabelFont(small);
        axis->setTickLabelColor(look::ink);
        axis->setLabelColor(look::ink);
        axis->setBasePen(QPen(look::ink, 1.0));
        axis->setTickPen(QPen(look::ink, 1.0));
        axis->setSubTicks(false);
        axis->grid()->setPen(QPen(look::rule, 1.0));
        axis->grid()->setZeroLinePen(Qt::NoPen);
        axis->setNumberFormat(QStringLiteral("gb"));
        axis->setNumberPrecision(4);
    }
    plot->xAxis->grid()->setVisible(false);

    mark = new QCPItemRect(plot);
    mark->setVisible(false);
    empty = new QCPItemText(plot);
    empty->position->setType(QCPItemPosition::ptAxisRectRatio);
    empty->position->setCoords(0.5, 0.5);
    empty->setColor(look::quietInk);
    empty->setTextAlignment(Qt::AlignLeft);
    QFont words = plot->font();
    words.setPointSizeF(11.0);
    empty->setFont(words);
}

void Chart::Parts::buildTable()
{
    table = new QTableView(&chart);
    figures = new FiguresModel(table);
    table->setModel(figures);
    table->setObjectName(QStringLiteral("chartTable"));
    table->setAlternatingRowColors(true);
    table->setSelectionBehavior(QAbstractItemView::SelectRows);
    table->verticalHeader()->setVisible(false);
    table->verticalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    table->verticalHeader()->setDefaultSectionSize(26);
    table->setTabKeyNavigation(false);
    table->hide();
    const auto choose = [this](const QModelIndex &index) {
        if (picture.rowsAreItems && index.isValid() && index.row() < count()) {
            click(index.row());
        }
    };
    QObject::connect(table, &QTableView::activated, table, choose);
}

void Chart::Parts::listenToPlot()
{
    QObject::connect(plot, &QCustomPlot::beforeReplot, plot, [this] { prepare(plot->size()); });
    QObject::connect(plot, &QCustomPlot::afterLayout, plot,
                     [this] { fitUprightTitle(plot->axisRect()->height(), true); });
    QObject::connect(plot->xAxis, qOverload<const QCPRange &>(&QCPAxis::rangeChanged), plot,
                     [this](const QCPRange &range) { keepWithin(*plot->xAxis, range, picture.x); });
    QObject::connect(plot->yAxis, qOverload<const QCPRange &>(&QCPAxis::rangeChanged), plot,
                     [this](const QCPRange &range) { keepWithin(*plot->yAxis, range, picture.y); });
    QObject::connect(plot, &QCustomPlot::mousePress, plot, [this](QMouseEvent *event) {
        pressedAt = event->pos();
        chart.setFocus(Qt::MouseFocusReason);
    });
    QObject::connect(plot, &QCustomPlot::mouseRelease, plot, [this](QMouseEvent *event) {
        const int item = itemAt(event->position());
        if ((event->pos() - pressedAt).manhattanLength() <= 4 && item >= 0) {
            click(item);
        }
    });
    QObject::connect(plot, &QCustomPlot::mouseMove, plot, [this](QMouseEvent *event) {
        const QString said =
            event->buttons() == Qt::NoButton ? wordsAt(event->position()) : QString();
        if (said.isEmpty()) {
            QToolTip::hideText();
            return;
        }
        const QString words = plainToolTip(said);
        QToolTip::showText(event->globalPosition().toPoint(),
                           QString(words).replace(QLatin1Char('\n'), QStringLiteral("<br>")), plot);
    });
}

void Chart::Parts::take(const ChartPicture &shown)
{
    // The same figure with another choice: what was zoomed into stays in sight.
    const bool sameAxes = !picture.isEmpty() && picture.fileStem == shown.fileStem &&
                          picture.x == shown.x && picture.y == shown.y;
    const QCPRange seenX = plot->xAxis->range();
    const QCPRange seenY = plot->yAxis->range();
    picture = shown;
    chosen = -1;
    title->setWords(picture.title, {picture.filterWords, picture.note});
    key->setPicture(picture);
    under->setRows(picture.isEmpty() ? std::vector<UnderAxisRow>{} : picture.underAxis);
    figures->setTable(picture.figures);
    table->setAccessibleName(picture.title);
    plot->clearPlottables();
    for (const ChartSeries &series : picture.series) {
        new SeriesPlottable(plot->xAxis, plot->yAxis, series);
    }
    // Axes without figures look like a chart that failed.
    const bool framed = !picture.isEmpty();
    plot->xAxis->setVisible(framed);
    plot->yAxis->setVisible(framed);
    plot->yAxis->grid()->setVisible(framed);
    key->setVisible(framed);
    empty->setVisible(!framed);
    empty->setText(picture.emptyWords.isEmpty() ? Chart::tr("Nothing to show.")
                                                : picture.emptyWords);
    setAxis(*plot->xAxis, picture.x);
    setAxis(*plot->yAxis, picture.y);
    if (sameAxes) {
        plot->xAxis->setRange(seenX);
        plot->yAxis->setRange(seenY);
    }
    plot->xAxis->grid()->setVisible(framed && !hasColumns());
    const Qt::Orientations ways =
        hasColumns() ? Qt::Orientations(Qt::Horizontal) : (Qt::Horizontal | Qt::Vertical);
    plot->axisRect()->setRangeDrag(ways);
    plot->axisRect()->setRangeZoom(ways);
    chosenChanged();
}

void Chart::Parts::setAxis(QCPAxis &axis, const ChartAxis &wanted)
{
    axis.setLabel(wanted.label);
    switch (wanted.scale) {
    case ChartAxis::Scale::Number:
        axis.setTicker(QSharedPointer<QCPAxisTicker>::create());
        break;
    case ChartAxis::Scale::Whole:
        axis.setTicker(QSharedPointer<WholeTicker>::create());
        break;
    case ChartAxis::Scale::BothWays:
        axis.setTicker(QSharedPointer<WholeTicker>::create(true));
        break;
    case ChartAxis::Scale::Share:
        axis.setTicker(QSharedPointer<ShareTicker>::create());
        break;
    case ChartAxis::Scale::Names:
        break; // thinTicks()
    case ChartAxis::Scale::Dates:
        axis.setTicker(QSharedPointer<DatesTicker>::create());
        break;
    }
    axis.setRange(wanted.from, wanted.to);
}

/// The picture can be stretched and moved, but never out of sight.
void Chart::Parts::keepWithin(QCPAxis &axis, const QCPRange &range, const ChartAxis &whole) const
{
    const double all = whole.to - whole.from;
    const double least = whole.scale == ChartAxis::Scale::Names ? std::min(2.2, all) : all / 200.0;
    const double size = std::clamp(range.size(), least, all);
    const double lower = std::clamp(range.lower, whole.from, whole.to - size);
    if (std::abs(lower - range.lower) > all * 1e-9 || std::abs(size - range.size()) > all * 1e-9) {
        axis.setRange(lower, lower + size);
    }
}

void Chart::Parts::thinTicks(const QSizeF &size)
{
    plot->xAxis->setTickLabelRotation(0);
    if (picture.x.scale == ChartAxis::Scale::Dates) {
        plot->xAxis->ticker().dynamicCast<DatesTicker>()->fit(
            plot->xAxis->range(), size.width(), QFontMetricsF(plot->xAxis->tickLabelFont()));
        return;
    }
    if (picture.x.scale != ChartAxis::Scale::Names) {
        return;
    }
    const AxisNames names =
        namesUnder(picture.x.names, size.width() / plot->xAxis->range().size(), size.height() * 0.3,
                   picture.x.mayLeaveOut, QFontMetricsF(plot->xAxis->tickLabelFont()));
    auto ticker = QSharedPointer<QCPAxisTickerText>::create();
    for (qsizetype name = 0; name < names.labels.size(); ++name) {
        if (!names.labels[name].isEmpty()) {
            ticker->addTick(static_cast<double>(name), names.labels[name]);
        }
    }
    plot->xAxis->setTickLabelRotation(names.turned);
    plot->xAxis->setTicker(ticker);
}

void Chart::Parts::prepare(const QSize &size)
{
    thinTicks(axisPixels(size));
    // Below the axes at least their numbers and title stand.
    const int line = QFontMetrics(plot->xAxis->labelFont()).height();
    fitUprightTitle(size.height() - title->heightIn(size) - under->minimumOuterSizeHint().height() -
                        4 * line,
                    false);
}

void Chart::Parts::fitUprightTitle(int height, bool isLaidOut)
{
    const QFontMetrics metrics(plot->yAxis->labelFont());
    const int room = std::max(0, height - 2);
    QString words = picture.y.label;
    if (metrics.horizontalAdvance(words) > room) {
        const QStringList lines = brokenLines(words, metrics, room, 2);
        const bool isWhole = lines.join(QLatin1Char(' ')) == words;
        // The two lines' room is there only when the layout was made with them.
        const bool hasRoom = isWhole && (lines.size() == 1 || !isLaidOut ||
                                         plot->yAxis->label().contains(QLatin1Char('\n')));
        words = hasRoom ? lines.join(QLatin1Char('\n')) : QStringLiteral(" ");
    }
    plot->yAxis->setLabel(words);
}

QString Chart::Parts::wordsAt(const QPointF &at) const
{
    const int item = itemAt(at);
    if (item >= 0) {
        return picture.items[static_cast<size_t>(item)].words;
    }
    if (picture.isEmpty()) {
        return {};
    }
    const QString named = key->wholeAt(at);
    return named.isEmpty() ? under->wholeAt(at) : named;
}

void Chart::Parts::chosenChanged()
{
    mark->setVisible(chosen >= 0);
    if (chosen >= 0) {
        const ChartItem &item = picture.items[static_cast<size_t>(chosen)];
        const QSize size = plot->axisRect()->size();
        const auto pixels = [](const QCPAxis &axis, int length) {
            return 8.0 * axis.range().size() / std::max(1, length);
        };
        const bool point = item.isPoint();
        placeMark(*mark, item, point ? pixels(*plot->xAxis, size.width()) : 0.0,
                  point ? pixels(*plot->yAxis, size.height()) : 0.0);
        if (picture.rowsAreItems) {
            table->selectRow(chosen);
        }
    }
    if (!plot->viewport().isEmpty()) { // not laid out yet: the first paint draws it
        plot->replot();
    }
}

QPointF Chart::Parts::middleOf(const ChartItem &item) const
{
    const QRectF axes(plot->axisRect()->rect());
    const double x = plot->xAxis->coordToPixel((item.x + item.x2) / 2.0);
    const double y =
        item.isColumn() ? axes.center().y() : plot->yAxis->coordToPixel((item.y + item.y2) / 2.0);
    return {x, y};
}

int Chart::Parts::itemAt(const QPointF &at) const
{
    if (picture.isEmpty() || !plot->axisRect()->rect().contains(at.toPoint())) {
        return -1;
    }
    const double x = plot->xAxis->pixelToCoord(at.x());
    const double y = plot->yAxis->pixelToCoord(at.y());
    int nearest = -1;
    double reach = pointReach * pointReach;
    for (int i = 0; i < count(); ++i) {
        const ChartItem &item = picture.items[static_cast<size_t>(i)];
        if (!item.isPoint() && x >= item.x && x < item.x2 && y >= item.y && y <= item.y2) {
            return i;
        }
        if (item.isColumn()) {
            continue;
        }
        const QPointF away = middleOf(item) - at;
        const double squared = QPointF::dotProduct(away, away);
        if (squared < reach) {
            reach = squared;
            nearest = i;
        }
    }
    return nearest;
}

int Chart::Parts::neighbour(int step) const
{
    std::vector<int> order(picture.items.size());
    for (size_t i = 0; i < order.size(); ++i) {
        order[i] = static_cast<int>(i);
    }
    std::ranges::stable_sort(order, {}, [this](int i) {
        const ChartItem &item = picture.items[static_cast<size_t>(i)];
        return std::pair(item.x + item.x2, item.isColumn() ? 0.0 : -(item.y + item.y2));
    });
    const auto at = std::ranges::find(order, chosen);
    const int last = count() - 1;
    const int place =
        at == order.end() ? last + (step < 0 ? 1 : 0) : static_cast<int>(at - order.begin());
    return order[static_cast<size_t>(std::clamp(place + step, 0, last))];
}

void Chart::Parts::zoomAboutMiddle(double factor)
{
    plot->xAxis->scaleRange(factor, plot->xAxis->range().center());
    if (!hasColumns()) {
        plot->yAxis->scaleRange(factor, plot->yAxis->range().center());
    }
    chosenChanged();
}

void Chart::Parts::showWhole()
{
    plot->xAxis->setRange(picture.x.from, picture.x.to);
    plot->yAxis->setRange(picture.y.from, picture.y.to);
    chosenChanged();
}

void Chart::Parts::click(int item)
{
    Q_EMIT chart.itemClicked(item);
}

void Chart::Parts::render(QCPPainter &painter, const QSize &size)
{
    const bool marked = mark->visible();
    mark->setVisible(false);
    prepare(size);
    plot->toPainter(&painter, size.width(), size.height());
    mark->setVisible(marked);
    plot->replot(QCustomPlot::rpQueuedReplot);
}

} // namespace keyround
