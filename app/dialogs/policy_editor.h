// SPDX-License-Identifier: GPL-3.0-or-later
// The policy: its rules in order (the first that fits a valve counts), each with its interval and
// where the interval comes from; and the ready packs, which cite their sources. Every change is
// stored at once and can be undone.
#pragma once

#include "core/schedule/policy.h"

#include <QWidget>

class QLabel;
class QPushButton;
class QTableWidget;

namespace keyround {

class CalmComboBox;
class CheckedLine;
class PolicyRuleForm;
class Session;

class PolicyEditor final : public QWidget
{
    Q_OBJECT
public:
    explicit PolicyEditor(Session &session, QWidget *parent = nullptr);

    [[nodiscard]] QTableWidget *table() const { return m_rules; }
    [[nodiscard]] PolicyRuleForm *form() const { return m_form; }

private:
    void buildRuleTable();
    [[nodiscard]] QWidget *buildButtons();
    [[nodiscard]] QWidget *buildPacks();
    void loadPacks();
    void refresh();
    void showChosen();
    [[nodiscard]] int chosenRule() const;
    Status storePolicy(Policy policy, const QString &text);
    void moveChosen(int by);
    void addRule();
    void removeRule();
    void takePack();

    Session &m_session;
    std::vector<Policy> m_packs;
    QLabel *m_title;
    QTableWidget *m_rules;
    PolicyRuleForm *m_form;
    CheckedLine *m_dueSoon = nullptr;
    CalmComboBox *m_packChoice = nullptr;
    QLabel *m_packRules = nullptr;
    QPushButton *m_takePack = nullptr;
    QPushButton *m_up = nullptr;
    QPushButton *m_down = nullptr;
    QPushButton *m_remove = nullptr;
};

} // namespace keyround
