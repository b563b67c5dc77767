// SPDX-License-Identifier: GPL-3.0-or-later
// Who works when and is able to do what: crews, the skills that valves ask for, holidays.
#pragma once

#include <QWidget>

namespace keyround {

class ListEditor;
class Session;

class CrewEditor final : public QWidget
{
    Q_OBJECT
public:
    explicit CrewEditor(Session &session, QWidget *parent = nullptr);
    [[nodiscard]] ListEditor *crews() const { return m_crews; }
    [[nodiscard]] ListEditor *skills() const { return m_skills; }
    [[nodiscard]] ListEditor *holidays() const { return m_holidays; }

private:
    ListEditor *m_crews;
    ListEditor *m_skills;
    ListEditor *m_holidays;
};

} // namespace keyround
