// SPDX-License-Identifier: GPL-3.0-or-later
// What the round came to, before it is finished and after.
#pragma once

#include "app/shell/session.h"

#include <QWidget>

class QLabel;

namespace keyround {

class BigButton;

class FinishPage final : public QWidget
{
    Q_OBJECT
public:
    explicit FinishPage(Session &session, QWidget *parent = nullptr);

    void load(const RoundId &round);
    void focusField();

Q_SIGNALS:
    void backAsked(); ///< to the stops
    void otherRoundAsked();

protected:
    void keyPressEvent(QKeyEvent *event) override;

private:
    void finish();
    [[nodiscard]] QString numbersOf(const std::vector<ValveId> &valves);
    [[nodiscard]] QString leftWords(const std::vector<ValveId> &valves);

    Session &m_session;
    RoundId m_round;
    bool m_finished = false;
    QLabel *m_title;
    QLabel *m_done;
    QLabel *m_notDone;
    QLabel *m_left;
    QLabel *m_bad;
    QLabel *m_defects;
    QLabel *m_outcome;
    BigButton *m_back;
    BigButton *m_finish;
};

} // namespace keyround
