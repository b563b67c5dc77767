// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/yard/left_out_model.h"

#include "app/dialogs/plain_label.h"
#include "app/models/data_table.h"
#include "app/shell/session.h"
#include "core/common/natural_key.h"

namespace keyround {

namespace {

constexpr int valveRole = Qt::UserRole + 2;

} // namespace

LeftOutModel::LeftOutModel(QObject *parent) : QStandardItemModel(parent)
{
    setHorizontalHeaderLabels({tr("Valve"), tr("Why, and what would let it in")});
}

void LeftOutModel::show(const std::vector<LeftOut> &leftOut, Session &session)
{
    removeRows(0, rowCount());
    for (const LeftOut &each : leftOut) {
        const Valve *valve = session.valve(each.valve);
        const QString number = valve != nullptr ? valve->number : QString();
        auto *name = new QStandardItem(number);
        name->setData(each.valve.text(), valveRole);
        name->setData(naturalKey(number), DataTable::sortRole);
        auto *reason = new QStandardItem(each.reason);
        reason->setData(each.reason, DataTable::sortRole);
        reason->setToolTip(plainToolTip(each.reason));
        appendRow({name, reason});
    }
}

ValveId LeftOutModel::valveAt(int row) const
{
    return ValveId::fromText(item(row)->data(valveRole).toString());
}

int LeftOutModel::rowOf(const ValveId &valve) const
{
    for (int row = 0; row < rowCount(); ++row) {
        if (valveAt(row) == valve) {
            return row;
        }
    }
    return -1;
}

QString LeftOutModel::reasonAt(int row) const
{
    return item(row, 1)->text();
}

} // namespace keyround
