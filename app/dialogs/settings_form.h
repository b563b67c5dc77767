// SPDX-License-Identifier: GPL-3.0-or-later
// Settings as lines to type into, one below the other: every field is stored when it is left, can
// be undone, and shows its refusal beside it. What the pages of the settings panel are made of.
#pragma once

#include "core/storage/settings_store.h"

#include <QWidget>

#include <functional>
#include <vector>

class QFormLayout;

namespace keyround {

class CheckedLine;
class Session;

class SettingsForm final : public QWidget
{
    Q_OBJECT
public:
    using Read = std::function<QString(const ProjectSettings &)>;
    using Write = std::function<Status(ProjectSettings &, const QString &text)>;

    explicit SettingsForm(Session &session, QWidget *parent = nullptr);

    /// The label is also what assistive programs read, and what the undo list names.
    void addLine(const QString &label, const Read &read, Write write);
    void addNumber(const QString &label, double least, double most,
                   int &(*field)(ProjectSettings &));
    void addNumber(const QString &label, double least, double most,
                   double &(*field)(ProjectSettings &));
    /// Typed in feet or metres, as the project has it.
    void addLength(const QString &label, Metres least, Metres most,
                   const std::function<Metres(const ProjectSettings &)> &read,
                   std::function<void(ProjectSettings &, Metres)> write);
    /// One of a few, by its place in the list.
    void addChoice(const QString &label, const QStringList &names,
                   std::function<int(const ProjectSettings &)> read,
                   std::function<void(ProjectSettings &, int)> write);
    /// Quiet words below the fields so far.
    void addNote(const QString &words);

private:
    template <typename Number>
    void addNumberOf(const QString &label, double least, double most,
                     Number &(*field)(ProjectSettings &));
    Status store(ProjectSettings after, const QString &label);
    void refresh();

    Session &m_session;
    QFormLayout *m_form;
    std::vector<std::pair<CheckedLine *, Read>> m_lines;
    std::vector<std::function<void()>> m_refreshers;
};

} // namespace keyround
