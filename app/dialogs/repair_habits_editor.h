// SPDX-License-Identifier: GPL-3.0-or-later
// The utility's own table of repair departments, and the rules by which a request is urgent. One
// page of the settings panel.
#pragma once

#include <QWidget>

namespace keyround {

class ListEditor;
class Session;

class RepairHabitsEditor final : public QWidget
{
    Q_OBJECT
public:
    explicit RepairHabitsEditor(Session &session, QWidget *parent = nullptr);

    [[nodiscard]] ListEditor *departments() const { return m_departments; }
    [[nodiscard]] ListEditor *rules() const { return m_rules; }

private:
    ListEditor *m_departments;
    ListEditor *m_rules;
};

} // namespace keyround
