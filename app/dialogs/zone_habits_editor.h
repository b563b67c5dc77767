// SPDX-License-Identifier: GPL-3.0-or-later
// The utility's own habits of work zones and loading, where its low speed ends, and the set-ups
// that it keeps under a name. One page of the settings panel.
#pragma once

#include <QWidget>

namespace keyround {

class ListEditor;
class Session;
class SettingsForm;

class ZoneHabitsEditor final : public QWidget
{
    Q_OBJECT
public:
    explicit ZoneHabitsEditor(Session &session, QWidget *parent = nullptr);

    [[nodiscard]] SettingsForm *habits() const { return m_habits; }
    [[nodiscard]] ListEditor *saved() const { return m_saved; }

private:
    [[nodiscard]] QWidget *buildHabits();

    SettingsForm *m_habits;
    ListEditor *m_saved;
};

} // namespace keyround
