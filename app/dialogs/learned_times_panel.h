// SPDX-License-Identifier: GPL-3.0-or-later
// What the finished rounds taught of times: each figure with the visits behind it, its median and
// quartiles, the default beside it, and a line for a figure of one's own.
#pragma once

#include <QWidget>

class QLabel;
class QPushButton;

namespace keyround {

class ListEditor;
class Session;
class WorkBar;

class LearnedTimesPanel final : public QWidget
{
    Q_OBJECT
public:
    explicit LearnedTimesPanel(Session &session, QWidget *parent = nullptr);
    [[nodiscard]] ListEditor *figures() const { return m_figures; }

private:
    void learn();

    Session &m_session;
    ListEditor *m_figures;
    QPushButton *m_learn;
    WorkBar *m_work;
    QLabel *m_refusal;
};

} // namespace keyround
