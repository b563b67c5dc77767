// SPDX-License-Identifier: GPL-3.0-or-later
// One row of the paper sheet's grid: a line edit for each column of the sheet and, behind them,
// what the row would record or why it cannot be.
#pragma once

#include "core/fieldlog/paper_row.h"

#include <QObject>

#include <array>

class QGridLayout;
class QLabel;
class QLineEdit;

namespace keyround {

struct CheckedSheetLine;
struct SheetLine;

/// Widths of the columns in pixels, for the rows and for the headings above them; 0 takes what is
/// left.
[[nodiscard]] const std::array<int, paperColumnCount + 2> &sheetColumnWidths();

class SheetRow final : public QObject
{
    Q_OBJECT
public:
    SheetRow(std::size_t index, QGridLayout *grid, QWidget *parent);

    [[nodiscard]] QLineEdit *edit(PaperColumn column) const
    {
        return m_edits.at(static_cast<std::size_t>(column));
    }
    [[nodiscard]] std::size_t index() const { return m_index; }
    /// The column of an edit of this row; empty for another widget.
    [[nodiscard]] std::optional<PaperColumn> columnOf(const QObject *widget) const;
    /// The first field that a person types into: the number, or Found where the round has put it.
    [[nodiscard]] QLineEdit *firstField() const;

    void show(const SheetLine &line);
    /// Refusals are shown once the row was left (`all`), or of one column that was.
    void showChecked(const CheckedSheetLine &checked, bool all);
    [[nodiscard]] QString status() const;

Q_SIGNALS:
    void edited(std::size_t row, PaperColumn column, const QString &text);

private:
    std::size_t m_index;
    QLabel *m_number;
    std::array<QLineEdit *, paperColumnCount> m_edits{};
    QLabel *m_status;
};

/// One line of what a row says: "full, 27 1/2 of 27 turns", "Found: How was it found? ...".
[[nodiscard]] QString statusOf(const CheckedSheetLine &checked);

} // namespace keyround
