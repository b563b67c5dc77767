// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/column_matching.h"

#include <algorithm>
#include <numeric>
#include <utility>
#include <vector>

namespace keyround {

namespace {

/// Letters to change, add or drop to make one text of the other (Levenshtein 1966).
int editDistance(const QString &a, const QString &b)
{
    std::vector<int> row(static_cast<size_t>(b.size()) + 1);
    std::iota(row.begin(), row.end(), 0);
    for (qsizetype i = 0; i < a.size(); ++i) {
        int diagonal = row[0];
        row[0] = static_cast<int>(i) + 1;
        for (size_t j = 1; j < row.size(); ++j) {
            const int change = a[i] == b[static_cast<qsizetype>(j) - 1] ? 0 : 1;
            const int best = std::min({row[j] + 1, row[j - 1] + 1, diagonal + change});
            diagonal = std::exchange(row[j], best);
        }
    }
    return row.back();
}

QStringList nearest(const QString &wanted, QStringList columns)
{
    constexpr qsizetype shown = 3;
    const QString lower = wanted.toLower();
    std::stable_sort(columns.begin(), columns.end(), [&lower](const QString &a, const QString &b) {
        return editDistance(lower, a.toLower()) < editDistance(lower, b.toLower());
    });
    return columns.mid(0, shown);
}

/// For a message: not more than a screen can hold.
QString columnList(const QStringList &columns)
{
    constexpr qsizetype shown = 60;
    if (columns.isEmpty()) {
        return QStringLiteral("none");
    }
    const QString list = columns.mid(0, shown).join(QStringLiteral(", "));
    return columns.size() > shown
               ? QStringLiteral("%1 and %2 more").arg(list).arg(columns.size() - shown)
               : list;
}

/// A street or a main is a line even when it says nothing more.
bool takesBareLines(LayerKind kind)
{
    return kind == LayerKind::Streets || kind == LayerKind::Mains;
}

Result<QString> realColumn(const QString &wanted, const QStringList &columns,
                           const QString &fileName)
{
    if (columns.contains(wanted)) {
        return wanted;
    }
    for (const QString &column : columns) {
        if (column.compare(wanted, Qt::CaseInsensitive) == 0) {
            return column;
        }
    }
    return fail(ErrorCode::NotFound,
                QStringLiteral("%1 has no column \"%2\". The nearest are: %3.")
                    .arg(fileName, wanted, nearest(wanted, columns).join(QStringLiteral(", "))));
}

Result<ColumnMatch> checkedMatch(LayerKind kind, const QStringList &columns,
                                 const ColumnMatch &asked, const QString &fileName)
{
    QStringList keys;
    for (const ImportField &field : importFields(kind)) {
        keys << field.key;
    }
    ColumnMatch match;
    for (auto it = asked.constBegin(); it != asked.constEnd(); ++it) {
        if (!keys.contains(it.key())) {
            return fail(ErrorCode::NotFound,
                        QStringLiteral("%1 have no field \"%2\". Fields are: %3.")
                            .arg(keyFor(kind), it.key(), keys.join(QStringLiteral(", "))));
        }
        if (it.value().isEmpty()) {
            continue; // said to have no column
        }
        const auto column = realColumn(it.value(), columns, fileName);
        if (!column) {
            return tl::unexpected(column.error());
        }
        match.insert(it.key(), *column);
    }
    return match;
}

} // namespace

Result<ColumnMatch> matchFor(LayerKind kind, const QStringList &columns, const ColumnMatch &asked,
                             const QString &fileName)
{
    Result<ColumnMatch> match = asked.isEmpty() ? Result<ColumnMatch>(guessColumns(kind, columns))
                                                : checkedMatch(kind, columns, asked, fileName);
    if (!match) {
        return match;
    }
    if (columns.isEmpty() && asked.isEmpty() && !takesBareLines(kind)) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("%1 has neither columns nor rows that could be read. Was it "
                                   "exported whole?")
                        .arg(fileName));
    }
    for (const ImportField &field : importFields(kind)) {
        if (field.required && !match->contains(field.key)) {
            return fail(
                ErrorCode::BadInput,
                QStringLiteral("No column of %1 could be matched to \"%2\" (%3), which %4 need. "
                               "Its columns are: %5. Say which it is (--map %3=COLUMN on the "
                               "console).")
                    .arg(fileName, field.label, field.key, keyFor(kind), columnList(columns)));
        }
    }
    return match;
}

} // namespace keyround
