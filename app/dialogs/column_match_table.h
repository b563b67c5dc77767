// SPDX-License-Identifier: GPL-3.0-or-later
// Which column of a file fills which field: one line a field, a choice of the file's columns, and
// the first values of the chosen column beside it, so that a wrong match shows at once.
#pragma once

#include "core/exchange/source.h"

#include <QTableWidget>

namespace keyround {

class ColumnMatchTable final : public QTableWidget
{
    Q_OBJECT
public:
    explicit ColumnMatchTable(QWidget *parent = nullptr);

    void show(LayerKind kind, const SourceLayer &layer, const ColumnMatch &match);
    /// As chosen; a field without a column is present with an empty name.
    [[nodiscard]] ColumnMatch match() const;
    /// Labels of required fields that have no column.
    [[nodiscard]] QStringList missing() const;

Q_SIGNALS:
    void matchChanged();

private:
    void showValues(int row);

    SourceLayer m_layer;
    QList<ImportField> m_fields;
};

} // namespace keyround
