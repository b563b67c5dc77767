// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/edit_hash.h"

#include <QCryptographicHash>
#include <QJsonDocument>
#include <QJsonObject>

namespace keyround {

QString editColumns()
{
    return QStringLiteral("id, valve_id, field, value_before, value_after, person, device, "
                          "made_utc_ms, made_offset_s, why, stamp, hash");
}

Status readEdit(const Statement &row, ValveEdit &edit)
{
    const std::optional<ValveField> field = valveFieldFromKey(row.text(2));
    if (!field) {
        return fail(ErrorCode::Damaged,
                    QStringLiteral("The edit record names the field \"%1\", which does not exist. "
                                   "The file is damaged: open the newest back-up.")
                        .arg(row.text(2)));
    }
    edit.id = EditId::fromText(row.text(0));
    edit.valve = ValveId::fromText(row.text(1));
    edit.field = *field;
    edit.before = row.text(3);
    edit.after = row.text(4);
    edit.author = Author{row.text(5), row.text(6)};
    edit.when = row.moment(7);
    edit.why = row.text(9);
    return {};
}

QString editHash(const ValveEdit &edit, HybridTime stamp)
{
    const QJsonObject json{
        {QStringLiteral("id"), edit.id.text()},
        {QStringLiteral("valve"), edit.valve.text()},
        {QStringLiteral("field"), QString::fromLatin1(infoOf(edit.field).key)},
        {QStringLiteral("before"), edit.before},
        {QStringLiteral("after"), edit.after},
        {QStringLiteral("person"), edit.author.person},
        {QStringLiteral("device"), edit.author.device},
        {QStringLiteral("utc_ms"), static_cast<qint64>(edit.when.utcMilliseconds)},
        {QStringLiteral("offset_s"), edit.when.offsetSeconds},
        {QStringLiteral("why"), edit.why},
        {QStringLiteral("stamp"), QString::number(stamp.value)},
    };
    return QString::fromLatin1(
        QCryptographicHash::hash(QJsonDocument(json).toJson(QJsonDocument::Compact),
                                 QCryptographicHash::Sha256)
            .toHex());
}

} // namespace keyround
