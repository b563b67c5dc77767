// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/inventory/features.h"

namespace keyround {

QString wordFor(SourceKind kind)
{
    switch (kind) {
    case SourceKind::Plant:
        return QStringLiteral("treatment plant");
    case SourceKind::Tank:
        return QStringLiteral("tank");
    case SourceKind::Well:
        return QStringLiteral("well");
    case SourceKind::Interconnection:
        break;
    }
    return QStringLiteral("interconnection");
}

QString keyFor(SourceKind kind)
{
    return kind == SourceKind::Plant ? QStringLiteral("plant") : wordFor(kind);
}

std::optional<SourceKind> sourceKindFromKey(const QString &key)
{
    for (const SourceKind kind :
         {SourceKind::Plant, SourceKind::Tank, SourceKind::Well, SourceKind::Interconnection}) {
        if (key == keyFor(kind)) {
            return kind;
        }
    }
    return std::nullopt;
}

} // namespace keyround
