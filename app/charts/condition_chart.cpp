// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/condition_chart.h"

#include "app/charts/chart_parts.h"
#include "app/shell/style.h"
#include "core/exchange/write_files.h"
#include "core/reports/condition_tables.h"

#include <QApplication>
#include <QBuffer>
#include <QClipboard>
#include <QImage>
#include <QKeyEvent>
#include <QMimeData>
#include <QPageSize>
#include <QPdfWriter>
#include <QToolTip>
#include <QVBoxLayout>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace keyround {

namespace {

constexpr double barWidth = 0.82;
/// Pictures are laid out as if this high, and then enlarged, so that their words stay readable.
constexpr double laidOutHeight = 520.0;

} // namespace

struct ConditionChart::Parts
{
    explicit Parts(ConditionChart &owner);

    void build();
    void buildBands();
    void setData();
    void setAxes();
    void keepWithin(const QCPRange &range);
    void thinTicks(double pixels);
    /// About how long the time axis becomes in a picture this wide. The axis itself knows only
    /// after the layout that the ticks are wanted for.
    [[nodiscard]] double axisPixels(int width) const
    {
        return std::max(100, width - key->minimumOuterSizeHint().width() - 70);
    }
    void chosenChanged();
    /// The period under a place on the plot; -1 when there is none.
    [[nodiscard]] int periodAt(const QPointF &at) const;
    [[nodiscard]] int count() const { return static_cast<int>(picture.series.size()); }
    [[nodiscard]] int total(int period) const;
    [[nodiscard]] QCPRange wholeRange() const { return {-0.6, std::max(1, count()) - 0.4}; }
    void zoomAboutMiddle(double factor);
    void click(int period);
    /// Lays the picture out at this size and paints it; the choice is left off.
    void render(QCPPainter &painter, const QSize &size);

    ConditionChart &chart;
    QCustomPlot *plot;
    TitleElement *title = nullptr;
    KeyElement *key = nullptr;
    QCPItemRect *mark = nullptr;
    QCPItemText *empty = nullptr;
    QList<QCPBars *> bars; ///< fill and pattern of each band in turn
    ConditionPicture picture;
    int chosen = -1;
    QPoint pressedAt;
};

QList<Condition> conditionBands()
{
    return {Condition::Serviceable, Condition::Defect,      Condition::DoesNotShut,
            Condition::DoesNotTurn, Condition::CannotReach, Condition::NeverVisited};
}

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

ConditionChart::ConditionChart(QWidget *parent)
    : QWidget(parent), m_parts(std::make_unique<Parts>(*this))
{
    setFocusPolicy(Qt::StrongFocus);
    setAccessibleName(tr("Condition chart"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_parts->plot);
    show(ConditionPicture{});
}

ConditionChart::~ConditionChart() = default;

void ConditionChart::show(const ConditionPicture &picture)
{
    m_parts->picture = picture;
    m_parts->chosen = -1;
    m_parts->title->setWords(picture.title, picture.filterWords);
    m_parts->key->setBands(picture.bands);
    m_parts->buildBands();
    m_parts->setData();
    m_parts->setAxes();
    m_parts->chosenChanged();
    setAccessibleDescription(picture.series.empty() ? picture.title
                                                    : picture.title + QStringLiteral(". ") +
                                                          wordsFor(m_parts->count() - 1));
}

void ConditionChart::choose(int index)
{
    m_parts->chosen = index >= 0 && index < m_parts->count() ? index : -1;
    m_parts->chosenChanged();
}

int ConditionChart::chosen() const
{
    return m_parts->chosen;
}

Status ConditionChart::savePng(const QString &path, const QSize &size)
{
    if (size.isEmpty()) {
        return fail(ErrorCode::BadInput,
                    tr("The chart was not saved to %1: its width and height must be above zero.")
                        .arg(path));
    }
    const double scale = std::max(0.25, size.height() / laidOutHeight);
    QImage image(size, QImage::Format_RGB32);
    image.fill(look::card);
    {
        QCPPainter painter;
        painter.begin(&image);
        painter.scale(scale, scale);
        m_parts->render(painter, QSize(static_cast<int>(std::ceil(size.width() / scale)),
                                       static_cast<int>(std::ceil(size.height() / scale))));
    }
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    image.save(&buffer, "PNG");
    return writeWhole(path, bytes);
}

Status ConditionChart::savePdf(const QString &path, const QSize &size)
{
    if (size.isEmpty()) {
        return fail(ErrorCode::BadInput,
                    tr("The chart was not saved to %1: its width and height must be above zero.")
                        .arg(path));
    }
    constexpr double pointsPerPixel = 72.0 / 96.0;
    constexpr int dotsPerInch = 1200;
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    {
        QPdfWriter writer(&buffer);
        writer.setTitle(m_parts->picture.title);
        writer.setCreator(QStringLiteral("Keyround"));
        writer.setResolution(dotsPerInch);
        writer.setPageSize(
            QPageSize(QSizeF(size) * pointsPerPixel, QPageSize::Point, {}, QPageSize::ExactMatch));
        writer.setPageMargins({});
        QCPPainter painter;
        painter.begin(&writer);
        painter.setModes(QCPPainter::pmVectorized | QCPPainter::pmNoCaching);
        painter.scale(dotsPerInch / 96.0, dotsPerInch / 96.0);
        m_parts->render(painter, size);
    }
    return writeWhole(path, bytes);
}

void ConditionChart::copy()
{
    auto *copied = new QMimeData;
    copied->setImageData(m_parts->plot->toPixmap(0, 0, 2.0).toImage());
    const ReportTable table = conditionTable(m_parts->picture.series);
    QStringList lines{table.columns.join(QLatin1Char('\t'))};
    for (const QStringList &row : table.rows) {
        lines << row.join(QLatin1Char('\t'));
    }
    copied->setText(lines.join(QLatin1Char('\n')));
    QApplication::clipboard()->setMimeData(copied);
}

QPoint ConditionChart::placeOf(int period, Condition band) const
{
    const PeriodCounts &counts = m_parts->picture.series.at(static_cast<size_t>(period));
    double below = 0;
    for (const Condition condition : std::as_const(m_parts->picture.bands)) {
        if (condition == band) {
            break;
        }
        below += counts.of(condition);
    }
    const QPointF at(m_parts->plot->xAxis->coordToPixel(period),
                     m_parts->plot->yAxis->coordToPixel(below + counts.of(band) / 2.0));
    return m_parts->plot->mapTo(this, at.toPoint());
}

QString ConditionChart::wordsFor(int period) const
{
    const PeriodCounts &counts = m_parts->picture.series.at(static_cast<size_t>(period));
    const int total = m_parts->total(period);
    QStringList lines{tr("%1 (until %2)").arg(counts.period, counts.end.toString(Qt::ISODate))};
    for (qsizetype i = m_parts->picture.bands.size() - 1; i >= 0; --i) {
        const Condition condition = m_parts->picture.bands[i];
        const int count = counts.of(condition);
        const double share = total > 0 ? 100.0 * count / total : 0.0;
        lines << tr("%1: %2 (%3 %)").arg(wordFor(condition)).arg(count).arg(share, 0, 'f', 0);
    }
    return lines.join(QLatin1Char('\n'));
}

int ConditionChart::seenPeriods() const
{
    const QCPRange range = m_parts->plot->xAxis->range();
    int seen = 0;
    for (int period = 0; period < m_parts->count(); ++period) {
        seen += range.contains(period) ? 1 : 0;
    }
    return seen;
}

void ConditionChart::keyPressEvent(QKeyEvent *event)
{
    if (event->matches(QKeySequence::Copy)) {
        return copy();
    }
    const int last = m_parts->count() - 1;
    switch (event->key()) {
    case Qt::Key_Left:
    case Qt::Key_Right:
        if (last >= 0) {
            const int from = m_parts->chosen < 0 ? last + (event->key() == Qt::Key_Left ? 1 : 0)
                                                 : m_parts->chosen;
            const int step = event->key() == Qt::Key_Left ? -1 : 1;
            m_parts->click(std::clamp(from + step, 0, last));
        }
        return;
    case Qt::Key_Plus:
    case Qt::Key_Equal:
        return m_parts->zoomAboutMiddle(1 / 1.5);
    case Qt::Key_Minus:
        return m_parts->zoomAboutMiddle(1.5);
    case Qt::Key_Home:
        m_parts->plot->xAxis->setRange(m_parts->wholeRange());
        m_parts->plot->replot();
        return;
    default:
        QWidget::keyPressEvent(event);
    }
}

} // namespace keyround
