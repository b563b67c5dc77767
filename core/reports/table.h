// SPDX-License-Identifier: GPL-3.0-or-later
// A table of plain text, as CSV and paper both take it. What the cells say is decided here, once.
#pragma once

#include <QString>
#include <QStringList>

#include <vector>

namespace keyround {

struct ReportTable
{
    QString title;
    QStringList columns;
    std::vector<QStringList> rows; ///< each as long as columns
};

} // namespace keyround
