// SPDX-License-Identifier: GPL-3.0-or-later
// Inner helpers of the value parsers: the many ways in which one text is typed, brought to one
// form before it is read. Used within core/inventory only.
#pragma once

#include <QString>
#include <QStringList>

#include <optional>

namespace keyround {

/// Trimmed, single spaces, lower case, with typographic quotes, dashes, primes and the signs for
/// 1/4, 1/2 and 3/4 replaced by what a keyboard has.
[[nodiscard]] QString plainText(const QString &text);

/// The words of a text in lower case: everything but letters, digits and & separates.
[[nodiscard]] QStringList plainWords(const QString &text);

/// "27", "26.5", ".75", "26 1/2", "2-1/4", "3/4" as a number; empty when it is none of these.
/// Expects plainText().
[[nodiscard]] std::optional<double> mixedNumber(const QString &plain);

/// The value in whole quarters; empty when it is finer than a quarter.
[[nodiscard]] std::optional<int> wholeQuarters(double value);

} // namespace keyround
