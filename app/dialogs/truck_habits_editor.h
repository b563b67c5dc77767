// SPDX-License-Identifier: GPL-3.0-or-later
// The habits of the work at the stop: arrival distance, back-off after opening, unit of torque, the
// tolerance of a count, the utility's own problems and its own words for a stuck valve.
#pragma once

#include "core/storage/settings_store.h"

#include <QWidget>

#include <functional>
#include <vector>

class QFormLayout;
class QPlainTextEdit;

namespace keyround {

class CheckedLine;
class Session;

class TruckHabitsEditor final : public QWidget
{
    Q_OBJECT
public:
    explicit TruckHabitsEditor(Session &session, QWidget *parent = nullptr);

private:
    using Read = std::function<QString(const ProjectSettings &)>;
    using Write = std::function<Status(TruckHabits &, const QString &text)>;

    void addLine(QFormLayout *form, const QString &label, const Read &read, Write write);
    void buildLines(QFormLayout *form);
    [[nodiscard]] QWidget *buildOwnProblems();
    [[nodiscard]] QWidget *buildProcedure();
    [[nodiscard]] Status store(TruckHabits habits, const QString &text);
    void refresh();

    Session &m_session;
    QPlainTextEdit *m_procedure;
    QString m_shownProcedure;
    QWidget *m_saveProcedure = nullptr;
    std::vector<std::pair<CheckedLine *, Read>> m_lines;
};

} // namespace keyround
