// SPDX-License-Identifier: GPL-3.0-or-later
// The table that every list of ours is: a filter line, sorting by heading, copying (Ctrl+C copies
// the selected rows with tabs), saving as CSV, fixed row heights, an empty state that says what to
// do. A place gives it a model and listens to rowActivated and selectionChanged.
//
// Models give Qt::DisplayRole as text and, where text does not sort, a sortable value as
// sortRole.
#pragma once

#include <QWidget>

class QAbstractItemModel;
class QLabel;
class QLineEdit;
class QModelIndex;
class QSortFilterProxyModel;
class QTableView;

namespace keyround {

class DataTable final : public QWidget
{
    Q_OBJECT
public:
    static constexpr int sortRole = Qt::UserRole + 1;

    /// The name keeps column widths, order and sorting across starts, and names exported files.
    DataTable(const QString &name, QWidget *parent = nullptr);

    void setModel(QAbstractItemModel *model);
    /// Column widths for a table that nobody has arranged yet. Call after setModel(), and again
    /// where they depend on the table's width.
    void setDefaultWidths(const QList<int> &widths);
    /// Shown in place of an empty table: why it is empty and what to do.
    void setEmptyText(const QString &text);
    /// A widget of the place's own at the right of the filter line.
    void addTool(QWidget *widget);

    [[nodiscard]] QTableView *view() const { return m_view; }
    [[nodiscard]] QLineEdit *filterLine() const { return m_filter; }
    /// Rows of the source model, in the order shown.
    [[nodiscard]] QList<int> selectedRows() const;
    [[nodiscard]] QList<int> shownRows() const;
    void selectRow(int sourceRow);
    /// Selects these rows alone and scrolls to the first of them; says selectionChanged once.
    void selectRows(const QList<int> &sourceRows);

    /// What is shown, as a table with headings (all columns that are not hidden).
    [[nodiscard]] QVector<QStringList> shownText() const;

Q_SIGNALS:
    void rowActivated(int sourceRow);
    void selectionChanged();

private:
    void buildActions();
    void refreshEmptyState();
    void copySelection();
    void saveAsCsv();
    void restoreLayout();
    void keepLayout() const;

    QString m_name;
    QLineEdit *m_filter;
    QTableView *m_view;
    QLabel *m_empty;
    QLabel *m_count;
    QSortFilterProxyModel *m_proxy;
    bool m_ownWidths = false; ///< the program sets widths: no arrangement to keep
};

} // namespace keyround
