// SPDX-License-Identifier: GPL-3.0-or-later
// A list of the settings as a table, and the chosen row's fields beside it as lines to type into:
// what crews, breaks, busy hours, skills and learned times share. Every field is stored when it is
// left, can be undone, and shows its refusal beside it.
#pragma once

#include "core/storage/settings_store.h"

#include <QWidget>

#include <functional>
#include <vector>

class QPushButton;
class QTableWidget;

namespace keyround {

class CheckedLine;
class Session;

struct ListColumn
{
    QString title;
    QString hint; ///< how it is written: "Mon-Fri"
    std::function<QString(const ProjectSettings &, int row)> read;
    /// Empty: shown, not typed.
    std::function<Status(ProjectSettings &, int row, const QString &text)> write = {};
    int width = 110;
};

struct ListSpec
{
    QString name;     ///< of the list, for its heading and assistive programs
    QString oneOf;    ///< "crew": for the buttons and the undo list
    QString key;      ///< object names, remembered widths
    QString whenNone; ///< what an empty list means, and what to do
    std::vector<ListColumn> columns;
    std::function<int(const ProjectSettings &)> count;
    std::function<void(ProjectSettings &)> add = {};             ///< empty: rows are not made here
    std::function<void(ProjectSettings &, int row)> remove = {}; ///< empty: nor taken away
};

class ListEditor final : public QWidget
{
    Q_OBJECT
public:
    ListEditor(Session &session, ListSpec spec, QWidget *parent = nullptr);

    [[nodiscard]] QTableWidget *table() const { return m_table; }
    /// The line of a column that is typed; null for one that is shown only.
    [[nodiscard]] CheckedLine *line(int column) const;
    void choose(int row);

private:
    void buildTable();
    [[nodiscard]] QWidget *buildForm();
    [[nodiscard]] QWidget *buildButtons();
    [[nodiscard]] int chosen() const;
    Status store(ProjectSettings after, const QString &text);
    void addRow();
    void removeRow();
    void refresh();
    void showChosen(bool isOther);

    Session &m_session;
    ListSpec m_spec;
    QTableWidget *m_table;
    QWidget *m_form = nullptr;
    QWidget *m_none = nullptr;
    QPushButton *m_remove = nullptr;
    std::vector<CheckedLine *> m_lines; ///< one a column; null where it is not typed
};

} // namespace keyround
