// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/truck/steps/problems_step.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/truck_look.h"

#include <QGridLayout>
#include <QLabel>
#include <QLineEdit>
#include <QScrollArea>

#include <algorithm>

namespace keyround {

namespace {

constexpr int rowsInColumn = 3;

/// A heading and its toggles as one block; blocks stand beside each other.
struct Block
{
    ProblemGroup group;
    QList<ProblemInfo> problems;
    [[nodiscard]] int columns() const
    {
        return (static_cast<int>(problems.size()) + rowsInColumn - 1) / rowsInColumn;
    }
};

QList<Block> blocksOfProblems()
{
    QList<Block> blocks;
    for (const ProblemInfo &info : problemList()) {
        if (info.problem == Problem::Other) {
            continue; // it stands with its words, below
        }
        if (blocks.isEmpty() || blocks.back().group != info.group) {
            blocks.append({info.group, {}});
        }
        blocks.back().problems.append(info);
    }
    return blocks;
}

QString headingFor(ProblemGroup group)
{
    QString word = wordFor(group);
    if (!word.isEmpty()) {
        word[0] = word[0].toUpper();
    }
    return word;
}

} // namespace

ProblemsStep::ProblemsStep(StopDesk &desk, QWidget *parent)
    : Step(desk, parent), m_own(new QWidget), m_ownRow(new QHBoxLayout(m_own)),
      m_other(new QLineEdit(this))
{
    const int gap = TruckScale::of(this).gap;
    auto *grid = new QGridLayout(this);
    grid->setContentsMargins(0, 0, 0, 0);
    grid->setSpacing(gap);
    int column = 0;
    int underShort = -1; // a block of one may take one more block below it
    for (const Block &block : blocksOfProblems()) {
        const bool below = block.problems.size() == 1 && underShort >= 0;
        const int at = below ? underShort : column;
        const int headingRow = below ? 2 : 0;
        auto *heading = truckLabel(this, TextSize::Small, true);
        heading->setText(headingFor(block.group));
        grid->addWidget(heading, headingRow, at, 1, block.columns(), Qt::AlignBottom);
        for (int i = 0; i < block.problems.size(); ++i) {
            grid->addWidget(toggleFor(block.problems[i]), headingRow + 1 + i % rowsInColumn,
                            at + i / rowsInColumn);
        }
        underShort = !below && block.problems.size() == 1 ? at : -1;
        column += below ? 0 : block.columns();
    }
    auto *last = new QHBoxLayout;
    last->setSpacing(gap);
    last->addWidget(toggleFor(infoOf(Problem::Other)), 2);
    last->addWidget(m_other, 3);
    last->addWidget(buildOwn(), 6);
    grid->addLayout(last, 4, 0, 1, column);
    for (int i = 0; i < column; ++i) {
        grid->setColumnStretch(i, 1);
    }
    grid->setRowStretch(5, 1);
    m_other->setObjectName(QStringLiteral("other-problem"));
    m_other->setAccessibleName(tr("Other problem in words"));
    connect(m_other, &QLineEdit::textEdited, this, [this](const QString &text) {
        form().otherProblem = text;
        if (!text.trimmed().isEmpty() && !form().problems.contains(Problem::Other)) {
            form().problems.append(Problem::Other);
        }
        load();
        Q_EMIT edited();
    });
}

QWidget *ProblemsStep::buildOwn()
{
    const TruckScale scale = TruckScale::of(this);
    m_ownRow->setContentsMargins(0, 0, 0, 0);
    m_ownRow->setSpacing(scale.gap);
    // Many of them are moved through sideways: the trade's own keep their places.
    auto *own = new QScrollArea(this);
    own->setObjectName(QStringLiteral("own-problems"));
    own->setWidgetResizable(true);
    own->setFrameShape(QFrame::NoFrame);
    own->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    own->setFocusPolicy(Qt::NoFocus);
    own->setWidget(m_own);
    own->setFixedHeight(scale.target + scale.gap * 2);
    m_ownScroll = own;
    return own;
}

BigButton *ProblemsStep::toggleFor(const ProblemInfo &info)
{
    auto *toggle = new BigButton(BigButton::Kind::Toggle, QString::fromUtf8(info.words), this);
    toggle->setObjectName(QStringLiteral("problem-") + QLatin1String(info.key));
    connect(toggle, &QAbstractButton::clicked, this,
            [this, problem = info.problem](bool on) { press(problem, on); });
    m_toggles.insert(static_cast<int>(info.problem), toggle);
    return toggle;
}

void ProblemsStep::press(Problem problem, bool on)
{
    setProblem(form(), problem, on);
    load();
    if (on && problem == Problem::Other) {
        m_other->setFocus();
    }
    Q_EMIT edited();
}

BigButton *ProblemsStep::ownToggle(const QString &words)
{
    auto *toggle = new BigButton(BigButton::Kind::Toggle, words, m_own);
    toggle->setObjectName(QStringLiteral("own-problem-%1").arg(m_ownToggles.size() + 1));
    toggle->setMinimumWidth(static_cast<int>(TruckScale::of(this).target * 7 / 4));
    connect(toggle, &QAbstractButton::clicked, this, [this, words](bool on) {
        form().ownProblems.removeAll(words);
        if (on) {
            form().ownProblems.append(words);
        }
        load();
        Q_EMIT edited();
    });
    return toggle;
}

/// Those in use, and those of this stop that no longer are: each group's together.
void ProblemsStep::showOwn()
{
    QStringList wanted;
    std::vector<OwnProblem> own = desk().session.settings().truckHabits.ownProblems;
    std::ranges::stable_sort(own, {}, &OwnProblem::group);
    for (const OwnProblem &each : own) {
        if (each.inUse || form().ownProblems.contains(each.words)) {
            wanted << each.words;
        }
    }
    for (const QString &words : form().ownProblems) {
        if (!wanted.contains(words)) {
            wanted << words;
        }
    }
    if (wanted != m_ownShown) {
        qDeleteAll(m_ownToggles);
        m_ownToggles.clear();
        for (const QString &words : wanted) {
            BigButton *toggle = ownToggle(words);
            m_ownToggles.insert(words, toggle);
            m_ownRow->addWidget(toggle);
        }
        m_ownShown = wanted;
    }
    m_ownScroll->setVisible(!wanted.isEmpty());
    for (auto it = m_ownToggles.constBegin(); it != m_ownToggles.constEnd(); ++it) {
        it.value()->setChecked(form().ownProblems.contains(it.key()));
    }
}

void ProblemsStep::load()
{
    showOwn();
    for (auto it = m_toggles.constBegin(); it != m_toggles.constEnd(); ++it) {
        it.value()->setChecked(form().problems.contains(static_cast<Problem>(it.key())));
    }
    if (m_other->text() != form().otherProblem) {
        m_other->setText(form().otherProblem);
    }
}

QString ProblemsStep::nextWords() const
{
    return form().problems.isEmpty() && form().ownProblems.isEmpty() ? tr("Next: no problem")
                                                                     : tr("Next: leave it");
}

QWidget *ProblemsStep::firstField()
{
    return m_toggles.value(static_cast<int>(problemList().front().problem));
}

} // namespace keyround
