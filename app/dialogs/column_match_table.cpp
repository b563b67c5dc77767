// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/column_match_table.h"

#include "app/dialogs/calm_combo_box.h"

#include <QHeaderView>

namespace keyround {

namespace {

enum Column { FieldColumn, ChoiceColumn, ValuesColumn };
constexpr qsizetype shownValues = 4;

CalmComboBox *choiceIn(const QTableWidget *table, int row)
{
    return qobject_cast<CalmComboBox *>(table->cellWidget(row, ChoiceColumn));
}

} // namespace

ColumnMatchTable::ColumnMatchTable(QWidget *parent) : QTableWidget(0, 3, parent)
{
    setHorizontalHeaderLabels({tr("Field"), tr("Column in the file"), tr("First values")});
    setAccessibleName(tr("Columns of the file"));
    verticalHeader()->hide();
    setEditTriggers(NoEditTriggers);
    setSelectionMode(NoSelection);
    setTabKeyNavigation(false);
    horizontalHeader()->setStretchLastSection(true);
    setColumnWidth(FieldColumn, 170);
    setColumnWidth(ChoiceColumn, 200);
}

void ColumnMatchTable::show(LayerKind kind, const SourceLayer &layer, const ColumnMatch &match)
{
    m_layer = layer;
    m_fields = importFields(kind);
    setRowCount(int(m_fields.size()));
    for (int row = 0; row < rowCount(); ++row) {
        const ImportField &field = m_fields.at(row);
        setItem(row, FieldColumn,
                new QTableWidgetItem(field.required ? tr("%1 (needed)").arg(field.label)
                                                    : field.label));
        setItem(row, ValuesColumn, new QTableWidgetItem);
        auto *choice = new CalmComboBox(this);
        choice->setAccessibleName(tr("Column for %1").arg(field.label));
        choice->addItem(tr("(none)"), QString());
        for (const QString &column : layer.columns) {
            choice->addItem(column, column);
        }
        const int matched = choice->findData(match.value(field.key));
        choice->setCurrentIndex(matched < 0 ? 0 : matched);
        connect(choice, &QComboBox::currentIndexChanged, this, [this, row] {
            showValues(row);
            Q_EMIT matchChanged();
        });
        setCellWidget(row, ChoiceColumn, choice);
        showValues(row);
    }
    Q_EMIT matchChanged();
}

void ColumnMatchTable::showValues(int row)
{
    const auto column = m_layer.columns.indexOf(choiceIn(this, row)->currentData().toString());
    QStringList values;
    for (const QStringList &cells : m_layer.firstRows) {
        if (column >= 0 && column < cells.size() && values.size() < shownValues &&
            !cells.at(column).isEmpty()) {
            values << cells.at(column).left(40);
        }
    }
    item(row, ValuesColumn)->setText(values.join(QStringLiteral("  |  ")));
}

ColumnMatch ColumnMatchTable::match() const
{
    ColumnMatch match;
    for (int row = 0; row < rowCount(); ++row) {
        match.insert(m_fields.at(row).key, choiceIn(this, row)->currentData().toString());
    }
    return match;
}

QStringList ColumnMatchTable::missing() const
{
    QStringList labels;
    const ColumnMatch chosen = match();
    for (const ImportField &field : m_fields) {
        if (field.required && chosen.value(field.key).isEmpty()) {
            labels << field.label;
        }
    }
    return labels;
}

} // namespace keyround
