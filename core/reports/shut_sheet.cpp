// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/reports/shut_sheet.h"

#include "core/reports/valve_words.h"

#include <QHash>

namespace keyround {

namespace {

QString counted(int count, const QString &one, const QString &many)
{
    return QStringLiteral("%1 %2").arg(count).arg(count == 1 ? one : many);
}

class ShutWriter
{
public:
    ShutWriter(const PipeNetwork &network, const ShutPlan &plan, const std::vector<Valve> &valves,
               UnitSystem units)
        : m_network(network), m_plan(plan), m_units(units)
    {
        for (const Valve &valve : valves) {
            m_valves.insert(valve.id, &valve);
        }
    }

    Sheet write(const QString &utility)
    {
        m_sheet.title = QStringLiteral("Shut: %1").arg(m_plan.at.words);
        if (!utility.isEmpty()) {
            m_sheet.headerLines << utility;
        }
        m_sheet.headerLines << QStringLiteral("Without water: %1 in the shut, %2 beyond it")
                                   .arg(loadWords(m_plan.out), loadWords(m_plan.outBeyond));
        m_sheet.table.title = QStringLiteral("Steps");
        m_sheet.table.columns = {QStringLiteral("No."),   QStringLiteral("Do"),
                                 QStringLiteral("Valve"), QStringLiteral("Where"),
                                 QStringLiteral("Why"),   QStringLiteral("Time"),
                                 QStringLiteral("By")};
        m_sheet.penColumnsFrom = 5;
        addSteps(QStringLiteral("Close"), m_plan.close);
        addSteps(QStringLiteral("Close against drain-back"), m_plan.closeDeadSide);
        addSteps(QStringLiteral("Is closed: check"), m_plan.alreadyClosed);
        addSteps(QStringLiteral("Passed over"), m_plan.passedOver);
        addSteps(QStringLiteral("Reopen"), m_plan.reopen);
        addNotes();
        m_sheet.cautions = QStringList{connectivityCaution()} + fieldCautions();
        return std::move(m_sheet);
    }

private:
    void addSteps(const QString &what, const std::vector<ShutStep> &steps)
    {
        for (const ShutStep &step : steps) {
            const NetValve &placed = m_network.valves[step.valve];
            const Valve *valve = m_valves.value(placed.id, nullptr);
            m_sheet.table.rows.push_back(
                {QString::number(m_sheet.table.rows.size() + 1), what,
                 valve == nullptr
                     ? placed.number
                     : QStringLiteral("%1: %2").arg(placed.number, whatWords(*valve, m_units)),
                 valve == nullptr ? QString() : whereWords(*valve, m_units), step.why, QString(),
                 QString()});
        }
    }

    void addNotes()
    {
        m_sheet.notes << m_plan.notes;
        for (const IfItFails &failure : m_plan.ifFails) {
            m_sheet.notes << failure.words;
        }
        QStringList hydrants;
        for (const NetIndex hydrant : m_plan.hydrantsOut) {
            hydrants << m_network.hydrants[hydrant].number;
        }
        if (!hydrants.isEmpty()) {
            m_sheet.notes << QStringLiteral("Hydrants without water: %1. Tell the fire department.")
                                 .arg(hydrants.join(QStringLiteral(", ")));
        }
        QStringList critical;
        for (const NetIndex service : m_plan.criticalOut) {
            critical << m_network.services[service].number;
        }
        if (!critical.isEmpty()) {
            m_sheet.notes << QStringLiteral("Critical services without water: %1. Tell them first.")
                                 .arg(critical.join(QStringLiteral(", ")));
        }
    }

    const PipeNetwork &m_network;
    const ShutPlan &m_plan;
    UnitSystem m_units;
    QHash<ValveId, const Valve *> m_valves;
    Sheet m_sheet;
};

} // namespace

QString loadWords(const Load &load)
{
    QString words = counted(load.services, QStringLiteral("service"), QStringLiteral("services"));
    if (load.critical > 0) {
        words += QStringLiteral(" (%1 critical)").arg(load.critical);
    }
    if (load.hydrants > 0) {
        words += QStringLiteral(", ") +
                 counted(load.hydrants, QStringLiteral("hydrant"), QStringLiteral("hydrants"));
    }
    return words;
}

Sheet shutSheet(const PipeNetwork &network, const ShutPlan &plan, const std::vector<Valve> &valves,
                const QString &utility, UnitSystem units)
{
    return ShutWriter(network, plan, valves, units).write(utility);
}

} // namespace keyround
