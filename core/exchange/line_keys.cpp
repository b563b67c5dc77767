// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/line_keys.h"

namespace keyround {

tl::expected<QString, QString> LineKeys::take(const QString &id, const GeoLine &line, qint64 row)
{
    const QString shape = keyOfLine(line);
    const QString whole = id + QLatin1Char('\n') + shape;
    const auto before = m_rowsByLine.constFind(whole);
    if (before != m_rowsByLine.constEnd()) {
        return tl::unexpected(
            QStringLiteral("row %1 has this very line already; that row was kept").arg(*before));
    }
    m_rowsByLine.insert(whole, row);
    QString key = id.isEmpty() ? shape : id;
    for (int part = 2; m_keys.contains(key); ++part) {
        key = QStringLiteral("%1-%2").arg(id.isEmpty() ? shape : id).arg(part);
    }
    m_keys.insert(key);
    return key;
}

} // namespace keyround
