// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/condition_chart.h"

#include "app/charts/condition_chart_parts.h"
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
#include <QVBoxLayout>

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

/// Pictures are laid out as if this high, and then enlarged, so that their words stay readable.
constexpr double laidOutHeight = 520.0;

} // namespace

QList<Condition> conditionBands()
{
    return {Condition::Serviceable, Condition::Defect,      Condition::DoesNotShut,
            Condition::DoesNotTurn, Condition::CannotReach, Condition::NeverVisited};
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
