// SPDX-License-Identifier: GPL-3.0-or-later
// What a second import of a layer would change, before anything is written.
#pragma once

#include <QHash>
#include <QSet>
#include <QString>
#include <QStringList>

#include <vector>

namespace keyround {

struct LayerDiff
{
    QStringList added;
    QStringList changed;
    QStringList unchanged;
    QStringList missing; ///< in the project but not in the file: kept, only said
};

/// Compares by key. `keyOf(row)` names a row; `same(old, fresh)` says whether nothing differs.
template <typename Row, typename Fresh, typename KeyOld, typename KeyFresh, typename Same>
[[nodiscard]] LayerDiff diffLayer(const std::vector<Row> &present, const std::vector<Fresh> &fresh,
                                  KeyOld keyOld, KeyFresh keyFresh, Same same)
{
    LayerDiff diff;
    QHash<QString, const Row *> byKey;
    byKey.reserve(static_cast<qsizetype>(present.size()));
    for (const Row &row : present) {
        byKey.insert(keyOld(row), &row);
    }
    QSet<QString> seen;
    for (const Fresh &row : fresh) {
        const QString key = keyFresh(row);
        seen.insert(key);
        const Row *old = byKey.value(key, nullptr);
        if (old == nullptr) {
            diff.added << key;
        } else if (same(*old, row)) {
            diff.unchanged << key;
        } else {
            diff.changed << key;
        }
    }
    for (const Row &row : present) {
        const QString key = keyOld(row);
        if (!seen.contains(key)) {
            diff.missing << key;
        }
    }
    return diff;
}

} // namespace keyround
