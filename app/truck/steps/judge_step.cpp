// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/steps/judge_step.h"

#include "app/dialogs/truck_look.h"

#include <QLabel>
#include <QVBoxLayout>

namespace keyround {

Judgement judgementOf(const StopDesk &desk)
{
    return judge(countedPasses(desk.form), desk.form.problems, desk.baseline, desk.tolerance);
}

namespace {

QString headlineFor(const Judgement &judgement)
{
    QString word = wordFor(judgement.verdict);
    if (!word.isEmpty()) {
        word[0] = word[0].toUpper();
    }
    return judgement.counted.value > 0
               ? QObject::tr("%1 turns: %2").arg(turnsText(judgement.counted), word)
               : word;
}

QString basisFor(const Judgement &judgement, const Tolerance &tolerance)
{
    QString words = QObject::tr("Judged by: %1.").arg(wordsFor(judgement.baseline));
    if (judgement.baseline.source != BaselineSource::None) {
        words += QObject::tr(" Allowed: %1 more or fewer (%2 turns or %3 %, whichever is larger).")
                     .arg(turnsText(judgement.allowed), turnsText(tolerance.turns))
                     .arg(tolerance.share * 100.0, 0, 'g', 3);
    }
    return words;
}

QString meaningOf(const Judgement &judgement, bool counted)
{
    switch (judgement.verdict) {
    case Verdict::Full:
        return QObject::tr("It ran its full travel.");
    case Verdict::Short:
        return QObject::tr("It turned, but not far enough: take it that it does not hold water "
                           "back.");
    case Verdict::Beyond:
        return QObject::tr("More turns than it should take: the list may be wrong, or the stem "
                           "slips.");
    case Verdict::SpinsFree:
        return QObject::tr("It turns without end: the stem or the nut no longer moves the gate.");
    case Verdict::DoesNotTurn:
        return QObject::tr("It could not be moved.");
    case Verdict::NotJudged:
        break;
    }
    return counted ? QObject::tr("There is nothing to judge it by yet. A full cycle, closing and "
                                 "opening by the same count, becomes its baseline.")
                   : QObject::tr("No turn was counted. If the valve could not be turned, say so "
                                 "among the problems; if it was not tried, the visit says "
                                 "nothing of its turning.");
}

} // namespace

JudgeStep::JudgeStep(StopDesk &desk, QWidget *parent)
    : Step(desk, parent), m_verdict(truckLabel(this, TextSize::Huge, true)),
      m_basis(truckLabel(this)), m_meaning(truckLabel(this, TextSize::Normal, true)),
      m_advice(truckLabel(this)), m_caution(truckLabel(this))
{
    m_verdict->setObjectName(QStringLiteral("verdict"));
    m_basis->setObjectName(QStringLiteral("basis"));
    m_meaning->setObjectName(QStringLiteral("meaning"));
    m_advice->setObjectName(QStringLiteral("advice"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(TruckScale::of(this).gap);
    for (QLabel *label : {m_verdict, m_meaning, m_basis, m_advice, m_caution}) {
        layout->addWidget(label);
    }
    layout->addStretch();
}

void JudgeStep::load()
{
    const Judgement judgement = judgementOf(desk());
    m_verdict->setText(headlineFor(judgement));
    m_basis->setText(basisFor(judgement, desk().tolerance));
    m_meaning->setText(meaningOf(judgement, !countedPasses(form()).empty()));
    const QString advice = adviceFor(judgement);
    setNote(m_advice, NoteKind::Attention, advice);
    // The advice ends with the same caution; where there is none it stands alone.
    m_caution->setText(tr("Common practice: slowly near the end, with the least force that does "
                          "it. The utility's own procedure comes first."));
    m_caution->setVisible(advice.isEmpty());
}

} // namespace keyround
