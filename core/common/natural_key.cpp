// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/common/natural_key.h"

namespace keyround {

QString naturalKey(const QString &text)
{
    constexpr int digitsKept = 12;
    QString key;
    QString digits;
    const auto closeDigits = [&] {
        if (!digits.isEmpty()) {
            key += digits.rightJustified(digitsKept, QLatin1Char('0'));
            digits.clear();
        }
    };
    for (const QChar letter : text) {
        if (letter.isDigit()) {
            digits += letter;
            continue;
        }
        closeDigits();
        key += letter.toCaseFolded();
    }
    closeDigits();
    return key;
}

} // namespace keyround
