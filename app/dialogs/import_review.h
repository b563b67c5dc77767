// SPDX-License-Identifier: GPL-3.0-or-later
// What an import would do: counts, rows that cannot be taken with their reasons (to save and send
// back to whoever made the file), warnings, and the rows on the map.
#pragma once

#include "app/commands/import_layer.h"

#include <QWidget>

class QLabel;
class QStandardItemModel;

namespace keyround {

class DataTable;
class MapWidget;

class ImportReview final : public QWidget
{
    Q_OBJECT
public:
    explicit ImportReview(Session &session, QWidget *parent = nullptr);

    void show(const ImportPlan &plan);
    void clear();

private:
    QLabel *m_summary;
    DataTable *m_notes;
    QStandardItemModel *m_rows;
    MapWidget *m_map;
};

} // namespace keyround
