// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/place_over_time.h"

#include "app/dialogs/plain_label.h"
#include "app/map/map_widget.h"
#include "app/shell/session.h"
#include "core/condition/series.h"

#include <QSignalBlocker>
#include <QSlider>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace keyround {

PlaceOverTime::PlaceOverTime(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_map(new MapWidget(session, this)),
      m_words(plainLabel({}, QStringLiteral("entry"), this)),
      m_slider(new QSlider(Qt::Horizontal, this))
{
    m_map->setAccessibleName(tr("Map of the valves out of condition"));
    m_words->setObjectName(QStringLiteral("mapWords"));
    m_slider->setObjectName(QStringLiteral("mapSlider"));
    m_slider->setAccessibleName(tr("Period shown on the map"));
    m_slider->setTickPosition(QSlider::TicksBelow);
    m_slider->setPageStep(3);
    auto *column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(4);
    column->addWidget(m_map, 1);
    column->addWidget(m_words);
    column->addWidget(m_slider);
    connect(m_slider, &QSlider::valueChanged, this, &PlaceOverTime::showPeriod);
    connect(m_map, &MapWidget::valveClicked, this, [this](const ValveId &valve) {
        const auto period = static_cast<size_t>(m_slider->value());
        if (!m_figure || period >= m_figure->periods.size()) {
            return;
        }
        const ReadVisit *read =
            lastVisitBy(m_session.history(valve), m_figure->periods[period].end);
        Q_EMIT valveChosen(valve, read == nullptr ? VisitId() : read->visit.id);
    });
}

void PlaceOverTime::show(std::shared_ptr<const ConditionChanges> figure,
                         std::shared_ptr<const std::vector<Valve>> valves,
                         const QString &filterWords)
{
    m_figure = std::move(figure);
    m_valves = std::move(valves);
    m_filterWords = filterWords;
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
        m_words->setText(tr("The span holds no day: its end lies before its beginning."));
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
    QString words = tr("%1 (until %2): %3 out of condition; ringed: %4 went out in it; %5 came "
                       "back.")
                        .arg(period.period, period.end.toString(Qt::ISODate))
                        .arg(out.size())
                        .arg(period.wentOut.size())
                        .arg(period.restored.size());
    if (withoutPlace > 0) {
        words += QLatin1Char(' ') + tr("%1 have no place on the map.").arg(withoutPlace);
    }
    if (!m_filterWords.isEmpty()) {
        words += QLatin1Char(' ') + m_filterWords + QLatin1Char('.');
    }
    m_words->setText(words);
    m_slider->setAccessibleDescription(words);
}

} // namespace keyround
