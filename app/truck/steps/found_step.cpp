// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/steps/found_step.h"

#include "app/dialogs/truck_look.h"
#include "app/truck/standing_chooser.h"
#include "app/truck/toggle_row.h"

#include <QGridLayout>
#include <QLabel>
#include <QVBoxLayout>

#include <array>

namespace keyround {

namespace {

QString shortWordFor(LidCondition lid)
{
    static const std::array<QString, lidConditionCount> words{
        QObject::tr("Good"), QObject::tr("Stuck"), QObject::tr("Broken"), QObject::tr("Missing")};
    return words.at(static_cast<std::size_t>(lid));
}

QString shortWordFor(BoxCondition box)
{
    static const std::array<QString, boxConditionCount> words{
        QObject::tr("Clean"), QObject::tr("Dirty"), QObject::tr("Full"), QObject::tr("Shifted"),
        QObject::tr("Too high or low")};
    return words.at(static_cast<std::size_t>(box));
}

} // namespace

FoundStep::FoundStep(StopDesk &desk, QWidget *parent)
    : Step(desk, parent), m_chooser(new StandingChooser(QStringLiteral("found"), this)),
      m_lid(new ToggleRow(this)), m_box(new ToggleRow(this)), m_note(truckLabel(this))
{
    auto *question = truckLabel(this, TextSize::Title, true);
    question->setText(tr("How was it found?"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(TruckScale::of(this).gap);
    layout->addWidget(question);
    layout->addWidget(m_chooser);
    layout->addWidget(m_note);
    buildBox();
    auto *lidWords = truckLabel(this, TextSize::Small, true);
    lidWords->setText(tr("Lid"));
    auto *boxWords = truckLabel(this, TextSize::Small, true);
    boxWords->setText(tr("Box"));
    auto *rows = new QGridLayout;
    rows->setHorizontalSpacing(TruckScale::of(this).gap);
    rows->setVerticalSpacing(0);
    rows->addWidget(lidWords, 0, 0);
    rows->addWidget(boxWords, 0, 1);
    rows->addWidget(m_lid, 1, 0);
    rows->addWidget(m_box, 1, 1);
    rows->setColumnStretch(0, lidConditionCount);
    rows->setColumnStretch(1, boxConditionCount);
    layout->addLayout(rows);
    layout->addStretch();
    connect(m_chooser, &StandingChooser::chosen, this, [this](Position position) {
        form().found = position;
        load();
        Q_EMIT edited();
    });
    connect(m_chooser, &StandingChooser::turnsEdited, this, [this](const QString &text) {
        form().foundTurns = text;
        Q_EMIT edited();
    });
}

void FoundStep::buildBox()
{
    for (int i = 0; i < lidConditionCount; ++i) {
        const auto lid = static_cast<LidCondition>(i);
        m_lid->add(shortWordFor(lid), QStringLiteral("lid-") + keyFor(lid));
    }
    for (int i = 0; i < boxConditionCount; ++i) {
        const auto box = static_cast<BoxCondition>(i);
        m_box->add(shortWordFor(box), QStringLiteral("box-") + keyFor(box));
    }
    connect(m_lid, &ToggleRow::pressed, this, [this](int place) {
        sayLid(form(), static_cast<LidCondition>(place));
        load();
        Q_EMIT edited();
    });
    connect(m_box, &ToggleRow::pressed, this, [this](int place) {
        sayBox(form(), static_cast<BoxCondition>(place));
        load();
        Q_EMIT edited();
    });
}

void FoundStep::load()
{
    for (int i = 0; i < lidConditionCount; ++i) {
        m_lid->setDown(i, form().lid == static_cast<LidCondition>(i));
    }
    for (int i = 0; i < boxConditionCount; ++i) {
        m_box->setDown(i, form().box == static_cast<BoxCondition>(i));
    }
    m_chooser->show(form().found, form().foundTurns);
    const Valve &valve = desk().valve;
    QString note;
    const bool normallyOpen = valve.normally == NormalPosition::Open;
    if (form().found && *form().found != Position::NotSeen &&
        *form().found != (normallyOpen ? Position::Open : Position::Closed)) {
        note = tr("It should be %1. Before it is moved, ask who set it so and why: a closed valve "
                  "may keep two zones apart or hold water from a repair.")
                   .arg(wordFor(valve.normally));
    } else if (form().found == Position::NotSeen) {
        note = tr("Then there is nothing to turn: go on and say what kept you from it.");
    }
    setNote(m_note, NoteKind::Attention, note);
}

QString FoundStep::nextWords() const
{
    return form().found == Position::NotSeen ? tr("Next: what kept you from it?")
                                             : tr("Next: turn it");
}

QWidget *FoundStep::firstField()
{
    return m_chooser->firstField();
}

bool FoundStep::takeKey(QKeyEvent *event)
{
    return m_chooser->takeKey(event);
}

} // namespace keyround
