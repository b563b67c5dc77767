// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/answer_tables.h"

#include "app/models/data_table.h"
#include "app/office/answer_model.h"

#include <QTableView>

#include <utility>

namespace keyround {

AnswerTables::Entry &AnswerTables::entry(Question question)
{
    Entry &found = m_entries[static_cast<size_t>(question)];
    if (found.table != nullptr) {
        return found;
    }
    found.model = new AnswerModel(question, this);
    found.table = new DataTable(QStringLiteral("office-") + keyFor(question), this);
    found.table->setModel(found.model);
    found.table->setObjectName(QStringLiteral("valvesBehind"));
    found.table->view()->setAccessibleName(tr("Valves behind the answer"));
    found.table->view()->setToolTip(tr("Double-click or Enter shows the valve's visits"));
    QList<int> widths;
    for (const AnswerColumn &column : answerColumns(question)) {
        widths << column.width;
    }
    found.table->setDefaultWidths(widths);
    connect(found.table, &DataTable::rowActivated, this, [this, model = found.model](int row) {
        Q_EMIT rowOpened(model->row(row).valve, model->row(row).visit);
    });
    addWidget(found.table);
    return found;
}

DataTable *AnswerTables::table(Question question)
{
    return entry(question).table;
}

void AnswerTables::show(Question question, Answer &&answer)
{
    Entry &shown = entry(question);
    shown.table->setEmptyText(answer.emptyTable);
    shown.model->setAnswer(std::move(answer.rows), std::move(answer.cells));
    setCurrentWidget(shown.table);
}

void AnswerTables::openOnlyRow(Question question)
{
    const Entry &shown = entry(question);
    if (shown.model->rowCount() == 1) {
        shown.table->selectRow(0);
        Q_EMIT rowOpened(shown.model->row(0).valve, shown.model->row(0).visit);
    }
}

} // namespace keyround
