// SPDX-License-Identifier: GPL-3.0-or-later
// The Yard: what is due and why, the map, the chosen valve's card, and the day to scale. What is
// chosen is shared: list, map, ribbon and card always speak of the same valves.
#pragma once

#include "core/common/ids.h"
#include "core/common/result.h"
#include "core/geo/point.h"

#include <QWidget>

#include <memory>

class QHBoxLayout;

namespace keyround {

class Session;
struct DayPlan;
struct Round;

class YardPlace final : public QWidget
{
    Q_OBJECT
public:
    explicit YardPlace(Session &session, QWidget *parent = nullptr);
    ~YardPlace() override;

    /// The round that is shown; null when none is.
    [[nodiscard]] RoundId chosenRound() const;
    /// Chooses the valve and shows where it lies.
    void showValve(const ValveId &valve);

Q_SIGNALS:
    void sheetWanted(const RoundId &round);
    void gpxWanted(const RoundId &round);
    void importWanted();
    void repairsWanted(const ValveId &valve);

protected:
    void keyPressEvent(QKeyEvent *event) override;

private:
    void build();
    [[nodiscard]] QWidget *buildStart();
    [[nodiscard]] QWidget *buildMapSide();
    [[nodiscard]] QWidget *buildDay();
    [[nodiscard]] QHBoxLayout *buildStopButtons(QWidget *day);
    void wire();
    void wireMap();
    void choose(const QList<ValveId> &valves);
    void addChosen(const QList<ValveId> &valves);
    void dropChosen(const QList<ValveId> &valves);
    void drawUp();
    [[nodiscard]] Status setYard(const GeoPoint &place);
    void placeClicked(const GeoPoint &place);
    void say(const Status &status);
    void refreshAll();
    void refreshRound();
    /// On the map and the ribbon: the desk's plan, or one that is only looked at.
    void showPlan(const Round &round, const DayPlan &plan, bool onlyLooking);
    void refreshSentence();
    void refreshCard();

    struct Parts;
    std::unique_ptr<Parts> m_parts;
};

} // namespace keyround
