// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/place_over_time.h"

#include "app/dialogs/plain_label.h"
#include "app/map/map_widget.h"
#include "app/models/data_table.h"
#include "app/models/figures_model.h"
#include "app/shell/session.h"
#include "app/shell/style.h"
#include "core/condition/series.h"
#include "core/reports/condition_tables.h"
#include "core/reports/review_tables.h"

#include <QKeyEvent>
#include <QLabel>
#include <QPainter>
#include <QShortcut>
#include <QSignalBlocker>
#include <QSlider>
#include <QStackedWidget>
#include <QTableView>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

constexpr int numberColumn = 1; ///< of outInPeriodTable()

} // namespace

PlaceOverTime::PlaceOverTime(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_map(new MapWidget(session, this)),
      m_table(new DataTable(QStringLiteral("office-map"), this)), m_rows(new FiguresModel(this)),
      m_stack(new QStackedWidget(this)), m_words(plainLabel({}, QStringLiteral("entry"), this)),
      m_slider(new QSlider(Qt::Horizontal, this))
{
    m_map->setAccessibleName(tr("Map of the valves out of condition"));
    m_table->setObjectName(QStringLiteral("mapTable"));
    m_rows->setTable(outInPeriodTable({}, 0, {}, {}, m_session.units())); // its headings
    m_table->setModel(m_rows);
    m_table->setDefaultWidths({95, 90, 220, 220, 90, 100, 120, 130, 150, 200});
    m_table->setEmptyText(tr("No valve was out of condition then, and none came back."));
    m_table->view()->setAccessibleName(tr("Valves on the map"));
    m_stack->addWidget(m_map);
    m_stack->addWidget(m_table);
    m_words->setObjectName(QStringLiteral("mapWords"));
    m_slider->setObjectName(QStringLiteral("mapSlider"));
    m_slider->setAccessibleName(tr("Period shown on the map"));
    m_slider->setTickPosition(QSlider::TicksBelow);
    m_slider->setPageStep(3);
    auto *column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    column->addWidget(m_stack, 1);
    column->addWidget(m_words);
    column->addWidget(m_slider);
    auto *turn = new QShortcut(QKeySequence(Qt::Key_T), this);
    turn->setContext(Qt::WidgetWithChildrenShortcut);
    connect(turn, &QShortcut::activated, this, [this] { setTableShown(!isTableShown()); });
    connect(m_slider, &QSlider::valueChanged, this, &PlaceOverTime::showPeriod);
    connect(m_map, &MapWidget::valveClicked, this, &PlaceOverTime::choose);
    connect(m_table, &DataTable::rowActivated, this, [this](int row) {
        const QString &number = m_rows->table().rows[static_cast<size_t>(row)].value(numberColumn);
        if (const Valve *valve = m_session.valveByNumber(number)) {
            choose(valve->id);
        }
    });
}

void PlaceOverTime::choose(const ValveId &valve)
{
    const auto period = static_cast<size_t>(m_slider->value());
    if (!m_figure || period >= m_figure->periods.size()) {
        return;
    }
    const ReadVisit *read = lastVisitBy(m_session.history(valve), m_figure->periods[period].end);
    Q_EMIT valveChosen(valve, read == nullptr ? VisitId() : read->visit.id);
}

void PlaceOverTime::show(std::shared_ptr<const ConditionChanges> figure,
                         std::shared_ptr<const std::vector<Valve>> valves, const QString &counted)
{
    m_counted = counted;
    m_filterWords = counted.isEmpty() ? QString() : tr("Counted: %1").arg(counted);
    m_figure = std::move(figure);
    m_valves = std::move(valves);
    const int last = static_cast<int>(m_figure->periods.size()) - 1;
    const bool sameLength = m_slider->maximum() == std::max(0, last);
    {
        const QSignalBlocker quiet(m_slider);
        m_slider->setRange(0, std::max(0, last));
        m_slider->setValue(sameLength ? m_slider->value() : last);
    }
    m_slider->setEnabled(last > 0);
    showPeriod(m_slider->value());
}

QString PlaceOverTime::words() const
{
    return m_words->text();
}

void PlaceOverTime::showPeriod(int index)
{
    const auto at = static_cast<size_t>(std::max(0, index));
    if (!m_figure || at >= m_figure->periods.size()) {
        m_map->setConditionsShown(QHash<ValveId, Condition>());
        m_periodWords = tr("The span holds no day: its end lies before its beginning.");
        m_words->setText(m_periodWords);
        refreshTable();
        return;
    }
    const ChangePeriod &period = m_figure->periods[at];
    QHash<ValveId, Condition> out;
    int withoutPlace = 0;
    for (const Valve &valve : *m_valves) {
        const Condition condition = conditionOn(m_session.history(valve.id), period.end);
        if (isOutOfCondition(condition)) {
            out.insert(valve.id, condition);
            withoutPlace += valve.place.isValid() ? 0 : 1;
        }
    }
    QSet<ValveId> wentOut;
    for (const size_t change : period.wentOut) {
        wentOut.insert(m_figure->all[change].change.valve);
    }
    m_map->setConditionsShown(out);
    m_map->setChosen(wentOut);
    m_periodWords = tr("%1 (until %2): %3 out of condition; ringed: %4 went out in it; %5 came "
                       "back.")
                        .arg(period.period, period.end.toString(Qt::ISODate))
                        .arg(out.size())
                        .arg(period.wentOut.size())
                        .arg(period.restored.size());
    if (withoutPlace > 0) {
        m_periodWords += QLatin1Char(' ') + tr("%1 have no place on the map.").arg(withoutPlace);
    }
    const QString words = m_filterWords.isEmpty()
                              ? m_periodWords
                              : QStringLiteral("%1 %2.").arg(m_periodWords, m_filterWords);
    m_words->setText(words);
    m_slider->setAccessibleDescription(words);
    refreshTable();
}

ReportTable PlaceOverTime::figures() const
{
    return outInPeriodTable(*m_figure, static_cast<size_t>(m_slider->value()), *m_valves,
                            m_session.histories(), m_session.units());
}

/// Only while it is looked at: the slider moves through thousands of valves.
void PlaceOverTime::refreshTable()
{
    if (isTableShown() && m_figure) {
        m_rows->setTable(figures());
    }
}

QString PlaceOverTime::title() const
{
    return tr("Valves out of condition, by place: %1")
        .arg(m_figure->periods[static_cast<size_t>(m_slider->value())].period);
}

bool PlaceOverTime::hasPicture() const
{
    return m_figure && !m_valves->empty() &&
           static_cast<size_t>(m_slider->value()) < m_figure->periods.size();
}

FilePicture PlaceOverTime::filePicture()
{
    if (!hasPicture()) {
        return {};
    }
    const QString period = m_figure->periods[static_cast<size_t>(m_slider->value())].period;
    return {title(), m_filterWords, tr("map-%1").arg(period), counted(figures(), m_counted),
            [this](const PictureTarget &target) { paint(target); }};
}

void PlaceOverTime::paint(const PictureTarget &target)
{
    QPainter painter(&target.device);
    painter.scale(target.scale, target.scale);
    painter.setRenderHints(QPainter::Antialiasing | QPainter::TextAntialiasing);
    const QRectF page(QPointF(0, 0), QSizeF(target.size));
    QFont small = font();
    small.setPointSizeF(9.0);
    QFont large = small;
    large.setPointSizeF(12.0);
    large.setWeight(QFont::DemiBold);
    const QString words = m_filterWords.isEmpty()
                              ? m_periodWords
                              : QStringLiteral("%1\n%2").arg(m_filterWords, m_periodWords);
    const QRectF inner = page.adjusted(12, 8, -12, -12);
    constexpr int flags = Qt::AlignLeft | Qt::TextWrapAnywhere | Qt::TextWordWrap;
    painter.setFont(large);
    const double titleHeight = painter.boundingRect(inner, flags, title()).height();
    painter.setFont(small);
    const double wordsHeight = painter.boundingRect(inner, flags, words).height();
    const double top = std::min(inner.top() + titleHeight + wordsHeight + 8, page.height() / 2);
    const QRectF map(inner.left(), top, inner.width(), inner.bottom() - top);
    m_map->paintInto(painter, map);
    // SVG knows no clipping in this Qt: what stands over the map's edge is covered.
    painter.setPen(Qt::NoPen);
    painter.setBrush(look::card);
    painter.drawRect(QRectF(0, 0, page.width(), map.top()));
    painter.drawRect(QRectF(0, 0, map.left(), page.height()));
    painter.drawRect(QRectF(map.right(), 0, page.width() - map.right(), page.height()));
    painter.drawRect(QRectF(0, map.bottom(), page.width(), page.height() - map.bottom()));
    painter.setPen(QPen(look::rule, 1.0));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(map);
    painter.setPen(look::ink);
    painter.setFont(large);
    painter.drawText(inner, flags, title());
    painter.setFont(small);
    painter.drawText(inner.adjusted(0, titleHeight + 2, 0, 0), flags, words);
}

void PlaceOverTime::setTableShown(bool on)
{
    if (isTableShown() == on) {
        return;
    }
    m_stack->setCurrentIndex(on ? 1 : 0);
    refreshTable();
    (on ? static_cast<QWidget *>(m_table->view()) : m_map)->setFocus();
    Q_EMIT tableShown(on);
}

bool PlaceOverTime::isTableShown() const
{
    return m_stack->currentIndex() == 1;
}

void PlaceOverTime::keyPressEvent(QKeyEvent *event)
{
    if (event->matches(QKeySequence::Copy) && hasPicture()) {
        return copyPicture(filePicture());
    }
    QWidget::keyPressEvent(event);
}

} // namespace keyround
