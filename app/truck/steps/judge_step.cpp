// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/steps/judge_step.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"
#include "app/truck/toggle_row.h"
#include "app/truck/words_area.h"
#include "core/condition/list_offer.h"
#include "core/fieldlog/dynamic_test.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>

#include <algorithm>
#include <array>

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

/// Where the utility's policy follows a statute that asks for a share of the travel: whether this
/// count met it. Empty elsewhere.
QString dynamicTestWords(StopDesk &desk)
{
    const Policy &policy = desk.session.settings().policy;
    const QLatin1String statute("58:31-3");
    const bool isAsked = policy.name.contains(statute) ||
                         std::ranges::any_of(policy.rules, [&](const PolicyRule &rule) {
                             return rule.source.contains(statute);
                         });
    const QuarterTurns total = desk.baseline.most;
    if (!isAsked || total.value == 0) {
        return {};
    }
    const QString needed = turnsText(dynamicTestTurns(total, newJerseyTestShare));
    return madeDynamicTest(countedPasses(desk.form), total, newJerseyTestShare)
               ? QObject::tr(
                     "The statute's test, 15 % of the travel both ways (%1 turns), is made.")
                     .arg(needed)
               : QObject::tr("The statute's test asks for 15 % of the travel both ways: %1 turns.")
                     .arg(needed);
}

/// What a count cannot say, and the problem that says it; in the order of the toggles.
struct Finding
{
    Problem problem;
    const char *name;
};
constexpr std::array findings{Finding{Problem::SpunContinuously, "judge-spins"},
                              Finding{Problem::CouldNotOperate, "judge-stuck"},
                              Finding{Problem::DidNotClose, "judge-flows"}};

/// The visit as far as it has come.
Visit visitSoFar(const StopForm &form)
{
    Visit visit;
    visit.passes = countedPasses(form);
    visit.problems = form.problems;
    return visit;
}

} // namespace

std::optional<QuarterTurns> listedTurnsOffered(const StopDesk &desk)
{
    return desk.form.correction ? std::nullopt
                                : listedTurnsToOffer(desk.valve, desk.history,
                                                     visitSoFar(desk.form), desk.tolerance);
}

JudgeStep::JudgeStep(StopDesk &desk, QWidget *parent)
    : Step(desk, parent), m_verdict(truckLabel(this, TextSize::Huge, true)),
      m_basis(truckLabel(this)), m_meaning(truckLabel(this, TextSize::Normal, true)),
      m_procedure(truckLabel(this)), m_advice(truckLabel(this)), m_caution(truckLabel(this)),
      m_offerWords(truckLabel(this)),
      m_offer(new BigButton(BigButton::Kind::Toggle, tr("Correct the list"), this)),
      m_findings(new ToggleRow(this)),
      m_again(new BigButton(BigButton::Kind::Plain, tr("Work it: count again"), this))
{
    m_verdict->setObjectName(QStringLiteral("verdict"));
    m_basis->setObjectName(QStringLiteral("basis"));
    m_meaning->setObjectName(QStringLiteral("meaning"));
    m_procedure->setObjectName(QStringLiteral("procedure"));
    m_advice->setObjectName(QStringLiteral("advice"));
    m_offerWords->setObjectName(QStringLiteral("list-offer-words"));
    buildAnswers();
    buildLayout();
}

void JudgeStep::buildAnswers()
{
    m_findings->add(tr("It spins without end"), QLatin1String(findings[0].name), Qt::Key_1);
    m_findings->add(tr("It does not move"), QLatin1String(findings[1].name), Qt::Key_2);
    m_findings->add(tr("Water still runs when closed"), QLatin1String(findings[2].name), Qt::Key_3);
    connect(m_findings, &ToggleRow::pressed, this, [this](int place, bool down) {
        setProblem(form(), findings.at(static_cast<std::size_t>(place)).problem, down);
        load();
        Q_EMIT edited();
    });
    m_again->setObjectName(QStringLiteral("judge-again"));
    m_again->setHint(tr("key 4"));
    connect(m_again, &QAbstractButton::clicked, this, &JudgeStep::workIt);
    m_offer->setObjectName(QStringLiteral("list-offer"));
    m_offer->setHint(tr("key 5"));
    m_offer->setTargetMillimetres(60, 20);
    m_offer->setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    connect(m_offer, &QAbstractButton::clicked, this, &JudgeStep::toggleOffer);
}

void JudgeStep::buildLayout()
{
    const int gap = TruckScale::of(this).gap;
    auto *words = new QVBoxLayout;
    words->setContentsMargins(0, 0, 0, 0);
    words->setSpacing(gap);
    for (QLabel *label : {m_meaning, m_basis, m_procedure, m_advice, m_caution}) {
        words->addWidget(label);
    }
    words->addStretch();
    auto *scroll = new WordsArea(words, tr("What the count means and what to try"), this);
    auto *offer = new QHBoxLayout;
    offer->setSpacing(gap);
    offer->addWidget(m_offerWords, 1);
    offer->addWidget(m_offer);
    auto *foot = new QHBoxLayout;
    foot->setSpacing(gap);
    foot->addWidget(m_findings, 3);
    foot->addWidget(m_again, 1);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(gap);
    layout->addWidget(m_verdict);
    layout->addWidget(scroll, 1);
    layout->addLayout(offer);
    layout->addLayout(foot);
}

void JudgeStep::load()
{
    const Judgement judgement = judgementOf(desk());
    m_verdict->setText(headlineFor(judgement));
    QStringList basis{basisFor(judgement, desk().tolerance), dynamicTestWords(desk())};
    basis.removeAll(QString());
    m_basis->setText(basis.join(QLatin1Char('\n')));
    m_meaning->setText(meaningOf(judgement, !countedPasses(form()).empty()));
    const bool good = judgement.verdict == Verdict::Full;
    const QStringList steps = nextStepsFor(judgement);
    const QString own = desk().session.settings().truckHabits.stuckProcedure.trimmed();
    setNote(m_procedure, NoteKind::Attention,
            own.isEmpty() || good || steps.size() < 2 ? QString()
                                                      : tr("The utility's procedure: %1").arg(own));
    setNote(m_advice, NoteKind::Attention, steps.join(QLatin1Char('\n')));
    // The advice ends with the same caution; where there is none it stands alone.
    m_caution->setText(tr("Common practice: slowly near the end, with the least force that does "
                          "it. The utility's own procedure comes first."));
    m_caution->setVisible(steps.isEmpty());
    for (std::size_t i = 0; i < findings.size(); ++i) {
        m_findings->setDown(static_cast<int>(i), form().problems.contains(findings[i].problem));
    }
    showOffer();
}

void JudgeStep::showOffer()
{
    const auto offered = listedTurnsOffered(desk());
    m_offer->setVisible(offered.has_value());
    m_offerWords->setVisible(offered.has_value());
    if (!offered) {
        return;
    }
    const QString listed = turnsText(*desk().valve.listedTurns);
    const QString count = turnsText(*offered);
    m_offer->setText(tr("List %1 turns").arg(count));
    m_offer->setAccessibleName(m_offer->text());
    m_offer->setChecked(form().newListedTurns.has_value());
    m_offerWords->setText(
        *offered < *desk().valve.listedTurns
            ? tr("Two visits agree on %1 turns; the list says %2. Only where the flow surely "
                 "stopped: a valve that does not close fully counts alike.")
                  .arg(count, listed)
            : tr("The passes agree on %1 turns; the list says %2. The old value stays in the "
                 "record.")
                  .arg(count, listed));
}

void JudgeStep::toggleOffer()
{
    form().newListedTurns = form().newListedTurns ? std::nullopt : listedTurnsOffered(desk());
    load();
    Q_EMIT edited();
}

void JudgeStep::workIt()
{
    beginPass(form(), directionUnderCount(form()) == PassDirection::Closing
                          ? PassDirection::Opening
                          : PassDirection::Closing);
    Q_EMIT edited();
    Q_EMIT jumpAsked(StopStep::Turn);
}

bool JudgeStep::takeKey(QKeyEvent *event)
{
    if (m_findings->takeKey(event)) {
        return true;
    }
    const bool again = event->key() == Qt::Key_4;
    const bool offer = event->key() == Qt::Key_5 && m_offer->isVisible();
    if (event->isAutoRepeat() || (!again && !offer)) {
        return false;
    }
    (again ? m_again : m_offer)->click();
    return true;
}

} // namespace keyround
