// SPDX-License-Identifier: GPL-3.0-or-later
// What was wrong: large toggles in their groups; below them the utility's own; "other" asks for
// words.
#pragma once

#include "app/truck/steps/step.h"
#include "core/fieldlog/visit.h"

#include <QHash>

class QHBoxLayout;
class QLineEdit;

namespace keyround {

class BigButton;

class ProblemsStep final : public Step
{
    Q_OBJECT
public:
    explicit ProblemsStep(StopDesk &desk, QWidget *parent = nullptr);

    void load() override;
    [[nodiscard]] QString nextWords() const override;
    [[nodiscard]] QWidget *firstField() override;

private:
    [[nodiscard]] BigButton *toggleFor(const ProblemInfo &info);
    void press(Problem problem, bool on);
    [[nodiscard]] QWidget *buildOwn();
    void showOwn();
    [[nodiscard]] BigButton *ownToggle(const QString &words);

    QHash<int, BigButton *> m_toggles; ///< by Problem
    QWidget *m_own;
    QWidget *m_ownScroll = nullptr;
    QHBoxLayout *m_ownRow;
    QStringList m_ownShown;
    QHash<QString, BigButton *> m_ownToggles; ///< by words
    QLineEdit *m_other;
};

} // namespace keyround
