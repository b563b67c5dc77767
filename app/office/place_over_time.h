// SPDX-License-Identifier: GPL-3.0-or-later
// Where valves went out of condition and came back, over time: the map, and below it a slider of
// the periods. The map shows the valves that were out of condition at the end of the period; those
// that went out in it carry a ring.
#pragma once

#include "core/condition/changes.h"
#include "core/inventory/valve.h"

#include <QWidget>

#include <memory>

class QLabel;
class QSlider;

namespace keyround {

class MapWidget;
class Session;

class PlaceOverTime final : public QWidget
{
    Q_OBJECT
public:
    explicit PlaceOverTime(Session &session, QWidget *parent = nullptr);

    void show(std::shared_ptr<const ConditionChanges> figure,
              std::shared_ptr<const std::vector<Valve>> valves, const QString &filterWords);
    [[nodiscard]] QSlider *slider() const { return m_slider; }
    [[nodiscard]] MapWidget *map() const { return m_map; }
    /// What the line above the slider says.
    [[nodiscard]] QString words() const;

Q_SIGNALS:
    /// The visit is the last one by the end of the period shown.
    void valveChosen(const ValveId &valve, const VisitId &visit);

private:
    void showPeriod(int period);

    Session &m_session;
    MapWidget *m_map;
    QLabel *m_words;
    QSlider *m_slider;
    std::shared_ptr<const ConditionChanges> m_figure;
    std::shared_ptr<const std::vector<Valve>> m_valves;
    QString m_filterWords;
};

} // namespace keyround
