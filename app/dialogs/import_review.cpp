// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/import_review.h"

#include "app/dialogs/plain_label.h"
#include "app/map/map_widget.h"
#include "app/models/data_table.h"

#include <QSplitter>
#include <QStandardItemModel>
#include <QVBoxLayout>

namespace keyround {

namespace {

QList<QStandardItem *> rowFor(const RowNote &note, const QString &outcome)
{
    const auto item = [](const QString &text, const QVariant &sortValue) {
        auto *made = new QStandardItem(text);
        made->setData(sortValue, DataTable::sortRole);
        return made;
    };
    const QString row = note.row > 0 ? QString::number(note.row) : QObject::tr("all");
    return {item(row, note.row), item(outcome, outcome), item(note.column, note.column),
            item(note.value, note.value), item(note.reason, note.reason)};
}

} // namespace

ImportReview::ImportReview(Session &session, QWidget *parent)
    : QWidget(parent), m_summary(plainLabel({}, QStringLiteral("heading"), this)),
      m_notes(new DataTable(QStringLiteral("import-notes"), this)),
      m_rows(new QStandardItemModel(this)), m_map(new MapWidget(session, this))
{
    m_summary->setObjectName(QStringLiteral("importSummary"));
    m_notes->setEmptyText(tr("Rows that cannot be taken, and warnings, appear here with their "
                             "row number, value and reason."));
    auto *split = new QSplitter(Qt::Horizontal, this);
    split->addWidget(m_notes);
    split->addWidget(m_map);
    split->setSizes({520, 420});
    auto *column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(m_summary);
    column->addWidget(split, 1);
    clear();
    m_notes->setModel(m_rows);
}

void ImportReview::clear()
{
    m_rows->clear();
    m_rows->setHorizontalHeaderLabels(
        {tr("Row"), tr("Outcome"), tr("Column"), tr("Value"), tr("Reason")});
    m_summary->setText(tr("Nothing is written until you have looked."));
    m_map->setPreview({});
}

void ImportReview::show(const ImportPlan &plan)
{
    clear();
    m_summary->setText(summaryOf(plan));
    for (const RowNote &note : plan.rejected) {
        m_rows->appendRow(rowFor(note, tr("not taken")));
    }
    for (const RowNote &note : plan.warnings) {
        m_rows->appendRow(rowFor(note, tr("warning")));
    }
    m_map->setPreview(plan.places);
    m_map->showPoints(plan.places);
}

} // namespace keyround
