// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/plan_comparison.h"

#include "app/commands/round_commands.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/typed_values.h"
#include "app/shell/session.h"
#include "app/yard/round_desk.h"
#include "app/yard/round_edit.h"
#include "core/dayplan/plan_figures.h"

#include <QGridLayout>
#include <QLabel>
#include <QPushButton>

#include <utility>

namespace keyround {

PlanComparison::PlanComparison(Session &session, RoundDesk &desk, QWidget *parent)
    : QFrame(parent), m_session(session), m_desk(desk),
      m_swap(new QPushButton(tr("Take that one"), this)),
      m_putAway(new QPushButton(tr("Put away"), this))
{
    setProperty("role", QStringLiteral("card"));
    setObjectName(QStringLiteral("comparison"));
    m_swap->setObjectName(QStringLiteral("swapPlans"));
    m_swap->setToolTip(tr("The plan set aside comes to the desk, and this one is set aside"));
    m_putAway->setObjectName(QStringLiteral("putAwayPlan"));
    auto *grid = new QGridLayout(this);
    grid->setContentsMargins(10, 4, 10, 4);
    grid->setHorizontalSpacing(22);
    grid->setVerticalSpacing(2);
    grid->setColumnStretch(OnlyHere, 1);
    addRow(grid, 0, m_onDesk);
    addRow(grid, 1, m_setAside);
    grid->addWidget(m_putAway, 0, ColumnCount);
    grid->addWidget(m_swap, 1, ColumnCount);
    for (QPushButton *button : {m_swap, m_putAway}) {
        button->setProperty("role", QStringLiteral("small"));
    }
    connect(m_swap, &QPushButton::clicked, this, &PlanComparison::swap);
    connect(m_putAway, &QPushButton::clicked, this, &PlanComparison::putAway);
    connect(&desk, &RoundDesk::changed, this, &PlanComparison::deskChanged);
    connect(&session.notifier(), &Notifier::projectChanged, this, &PlanComparison::putAway);
    hide();
}

void PlanComparison::addRow(QGridLayout *grid, int at, Row &row)
{
    for (int column = 0; column < ColumnCount; ++column) {
        QLabel *label =
            plainCaption({}, column == Name ? QStringLiteral("entry") : QString(), this);
        label->setMinimumWidth(column == OnlyHere ? 40 : 0);
        label->setSizePolicy(column == OnlyHere ? QSizePolicy::Ignored : QSizePolicy::Preferred,
                             QSizePolicy::Preferred);
        grid->addWidget(label, at, column);
        row[static_cast<size_t>(column)] = label;
    }
    row[Name]->setObjectName(at == 0 ? QStringLiteral("onDesk") : QStringLiteral("setAside"));
}

void PlanComparison::setAside()
{
    m_aside = m_desk.round();
    m_swapped.reset();
    refresh();
}

void PlanComparison::swap()
{
    if (!m_aside) {
        return;
    }
    const Round now = m_desk.round();
    Round taken = *m_aside;
    // The day itself may have gone on meanwhile.
    taken.id = now.id;
    taken.state = now.state;
    m_swapped = m_aside;
    m_aside = now;
    if (Status done = m_desk.change(taken, tr("Take the plan set aside")); !done) {
        m_aside = std::exchange(m_swapped, std::nullopt);
        Q_EMIT m_session.notifier().failed(done.error().message);
    }
    refresh();
}

void PlanComparison::putAway()
{
    m_aside.reset();
    m_swapped.reset();
    refresh();
}

void PlanComparison::deskChanged()
{
    if (m_aside && m_swapped && m_desk.round() == *m_aside) {
        std::swap(m_aside, m_swapped); // undone or done again: the other one is aside now
    }
    refresh();
}

QString PlanComparison::numbersOnlyIn(const Round &round, const Round &other) const
{
    QStringList numbers;
    for (const ValveId &id : round.stops) {
        const Valve *valve = m_session.valve(id);
        if (valve != nullptr && stopIndex(other, id) < 0) {
            numbers << valve->number;
        }
    }
    return numbers.join(QStringLiteral(", "));
}

void PlanComparison::fill(const Row &row, const QString &name, const Round &round,
                          const Round &other, const DayPlan &plan)
{
    const PlanFigures figures = figuresOf(plan);
    const auto minutes = [](double value) { return durationText(Seconds{value * 60.0}); };
    row[Name]->setText(name);
    row[Stops]->setText(tr("%1 valves").arg(figures.valves));
    row[Driving]->setText(tr("%1 driving").arg(minutes(figures.driveMinutes)));
    row[Waiting]->setText(figures.waitMinutes < 0.5
                              ? tr("no waiting")
                              : tr("%1 waiting").arg(minutes(figures.waitMinutes)));
    row[Finish]->setText(figures.finish.isValid() ? tr("back at %1").arg(timeText(figures.finish))
                                                  : QString());
    row[Priority]->setText(tr("priority %1").arg(figures.priority, 0, 'f', 1));
    const QString only = numbersOnlyIn(round, other);
    row[OnlyHere]->setText(only.isEmpty() ? QString() : tr("only here: %1").arg(only));
    row[OnlyHere]->setToolTip(plainToolTip(only));
}

void PlanComparison::refresh()
{
    const bool isShown = m_aside && m_aside->id == m_desk.round().id;
    setVisible(isShown);
    if (!isShown) {
        return;
    }
    fill(m_onDesk, tr("On the desk"), m_desk.round(), *m_aside, m_desk.plan());
    const auto plan = timesOf(m_session, *m_aside);
    fill(m_setAside, tr("Set aside"), *m_aside, m_desk.round(), plan ? *plan : DayPlan{});
    m_swap->setEnabled(m_desk.canChange() && m_desk.round() != *m_aside);
}

} // namespace keyround
