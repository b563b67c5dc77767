// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: a damaged project file, opened on a copy to be read as far as it goes. For
// recover.cpp.
#pragma once

#include "core/common/result.h"

#include <QString>
#include <QStringList>
#include <QTemporaryDir>
#include <QVariant>

#include <functional>
#include <memory>

namespace keyround {

class DamagedSource
{
public:
    using TakeRow = std::function<Status(const QVariantList &)>;

    /// Copies the file, and its journal, into a folder of its own beside `near`; rolls the journal
    /// back; puts a header that cannot be right as it must be.
    [[nodiscard]] Status open(const QString &path, const QString &near);
    DamagedSource() = default;
    ~DamagedSource();
    DamagedSource(const DamagedSource &) = delete;
    DamagedSource &operator=(const DamagedSource &) = delete;

    [[nodiscard]] bool headerWasMended() const { return m_headerMended; }

    /// The columns that the table has here; empty when it cannot be told.
    [[nodiscard]] QStringList columnsOf(const QString &table) const;

    /// Gives the rows in the order of rowids, with these columns. False: there were gaps. The
    /// Status is take()'s own failure.
    [[nodiscard]] Result<bool> readTable(const QString &table, const QStringList &columns,
                                         const TakeRow &take) const;

    /// The ids that the table's own index still knows.
    [[nodiscard]] QStringList indexedIds(const QString &table) const;

    /// Rows from the pages themselves, of whatever table.
    [[nodiscard]] Status readPages(const TakeRow &take) const;

private:
    struct Gap
    {
        bool hasRow = false;
        qlonglong rowid = 0;
    };
    [[nodiscard]] Status mendHeader();
    void connectTo();
    void disconnectFrom();
    [[nodiscard]] Result<bool> readForward(const QString &select, qlonglong &last,
                                           const TakeRow &take) const;
    [[nodiscard]] Result<Gap> readOverGap(const QString &select, qlonglong last,
                                          const TakeRow &take) const;
    [[nodiscard]] Status readBackward(const QString &select, qlonglong last,
                                      const TakeRow &take) const;

    std::unique_ptr<QTemporaryDir> m_folder;
    QString m_copy;
    QString m_name;
    bool m_headerMended = false;
};

} // namespace keyround
