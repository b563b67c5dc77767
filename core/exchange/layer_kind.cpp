// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/layer_kind.h"

#include "core/exchange/field_headings.h"

#include <QSet>

#include <algorithm>
#include <array>
#include <utility>

namespace keyround {

namespace {

constexpr std::array kindKeys{
    std::pair{LayerKind::Valves, "valves"},     std::pair{LayerKind::Streets, "streets"},
    std::pair{LayerKind::Mains, "mains"},       std::pair{LayerKind::Hydrants, "hydrants"},
    std::pair{LayerKind::Services, "services"}, std::pair{LayerKind::Sources, "sources"},
    std::pair{LayerKind::Visits, "visits"},
};

} // namespace

QString keyFor(LayerKind kind)
{
    const auto *const found = std::find_if(kindKeys.begin(), kindKeys.end(),
                                           [kind](const auto &pair) { return pair.first == kind; });
    return QLatin1String(found->second);
}

std::optional<LayerKind> layerKindFromKey(const QString &key)
{
    for (const auto &[kind, name] : kindKeys) {
        if (key.compare(QLatin1String(name), Qt::CaseInsensitive) == 0) {
            return kind;
        }
    }
    return std::nullopt;
}

const QList<ImportField> &importFields(LayerKind kind)
{
    static const QMap<LayerKind, QList<ImportField>> fields{
        {LayerKind::Valves, valveImportFields()},     {LayerKind::Streets, streetImportFields()},
        {LayerKind::Mains, mainImportFields()},       {LayerKind::Hydrants, hydrantImportFields()},
        {LayerKind::Services, serviceImportFields()}, {LayerKind::Sources, sourceImportFields()},
        {LayerKind::Visits, visitImportFields()},
    };
    return fields.find(kind).value();
}

ColumnMatch guessColumns(LayerKind kind, const QStringList &columns)
{
    QStringList plain;
    for (const QString &column : columns) {
        plain << plainHeading(column);
    }
    const QList<ImportField> &fields = importFields(kind);
    qsizetype longest = 0;
    for (const ImportField &field : fields) {
        longest = std::max(longest, field.headings.size());
    }
    ColumnMatch match;
    QSet<qsizetype> taken;
    // Rank by rank over all fields, so that a column goes to the field that it fits best and not
    // to the field that happens to be asked first.
    for (qsizetype rank = 0; rank < longest; ++rank) {
        for (const ImportField &field : fields) {
            if (rank >= field.headings.size() || match.contains(field.key)) {
                continue;
            }
            const qsizetype column = plain.indexOf(field.headings.at(rank));
            if (column >= 0 && !taken.contains(column)) {
                match.insert(field.key, columns.at(column));
                taken.insert(column);
            }
        }
    }
    return match;
}

QString layoutKey(LayerKind kind, const QStringList &columns)
{
    QStringList sorted;
    for (const QString &column : columns) {
        sorted << column.trimmed().toLower();
    }
    sorted.sort();
    return keyFor(kind) + QLatin1Char(':') + sorted.join(QLatin1Char('|'));
}

} // namespace keyround
