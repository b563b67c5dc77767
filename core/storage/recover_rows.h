// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: the way of one table's rows into the new file, for recover.cpp. Rows are first
// set down in a temporary table as they read; from there those that hold go on.
#pragma once

#include "core/storage/connection.h"
#include "core/storage/recover.h"

#include <QVariant>

#include <optional>

namespace keyround {

class Statement;

/// A table of the new file: its name and columns, and how a row of it is known to hold.
struct TableForm
{
    QString name;
    QStringList columns;
    /// Over the columns in the order of `checkedColumns`; null where rows carry no hash.
    bool (*holds)(const Statement &row) = nullptr;
    QString checkedColumns;
};

/// The tables of the new file in the order of their making, so that what is referred to is first.
[[nodiscard]] Result<std::vector<TableForm>> tableForms(const QString &connection);

class TableTransfer
{
public:
    TableTransfer(Connection &to, TableForm form, Recovery &recovery);

    [[nodiscard]] Status begin();
    /// Sets a row down; values for the named columns, the others take their defaults.
    [[nodiscard]] Status setDown(const QStringList &columns, const QVariantList &values);
    /// Rows set down from here on come from the pages themselves: repeats of what is known are no
    /// surprise.
    void looseFromHere() { m_looseAfter = m_setDown; }
    /// Takes what holds over and lists what does not. Rows whose valve is missing get one that
    /// says so.
    [[nodiscard]] Status finish(bool whole, const QStringList &indexedIds);

private:
    [[nodiscard]] Status judge();
    [[nodiscard]] Status takeOver(qlonglong rowid);
    [[nodiscard]] Status makeMissingValve(qlonglong rowid);
    [[nodiscard]] QString contentOf(qlonglong rowid) const;
    [[nodiscard]] bool isKnown(qlonglong rowid) const;
    void doubt(qlonglong rowid, const QString &why);
    [[nodiscard]] QString firstText(qlonglong rowid) const;

    Connection &m_to;
    TableForm m_form;
    Recovery &m_recovery;
    RecoveredTable m_counts;
    qlonglong m_setDown = 0; ///< rows so far: the rowid of the last one
    std::optional<qlonglong> m_looseAfter;
};

} // namespace keyround
