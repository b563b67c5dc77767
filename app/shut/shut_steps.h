// SPDX-License-Identifier: GPL-3.0-or-later
// What is done next in a shut, at the foot of the page: one valve, its buttons, a line for a
// remark; beginning, reopening and ending. The next thing to do is the largest, and the keyboard
// goes to it after each step.
#pragma once

#include "app/shut/shut_desk.h"

#include <QWidget>

#include <functional>

class QLabel;
class QLineEdit;

namespace keyround {

class BigButton;

class ShutSteps final : public QWidget
{
    Q_OBJECT
public:
    ShutSteps(Session &session, ShutDesk &desk, QWidget *parent = nullptr);

    /// The valve that is acted on until the next step; null: the one that comes next.
    void choose(const ValveId &valve);
    [[nodiscard]] ValveId current() const { return m_current; }
    [[nodiscard]] bool isReopening() const { return m_reopening; }
    /// As the desk stands now. After another break was put on it, with `afresh`.
    void load(bool afresh);
    void focusNext();

Q_SIGNALS:
    void currentChanged();
    void reopeningChanged();

private:
    struct Act
    {
        QString words;
        std::function<Status()> run;
    };
    void set(BigButton *button, const Act &act);
    void showActs();
    [[nodiscard]] std::vector<Act> actsFor(const ShutRow &row);
    [[nodiscard]] QString headingFor(const ShutRow *row) const;
    void showShutButtons();
    void run(const std::function<Status()> &act);
    void setReopening(bool on);
    [[nodiscard]] Act ticking(const QString &words, const ShutRow &row, ShutAction action);

    Session &m_session;
    ShutDesk &m_desk;
    ValveId m_current;
    bool m_chosenByHand = false;
    bool m_reopening = false;
    bool m_ending = false;
    QLabel *m_heading;
    QLabel *m_statement;
    QLineEdit *m_remark;
    BigButton *m_first;  ///< the next thing to do
    BigButton *m_second; ///< what else may have happened
    BigButton *m_phase;
    BigButton *m_end;
    std::function<Status()> m_onFirst;
    std::function<Status()> m_onSecond;
};

} // namespace keyround
