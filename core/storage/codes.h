// SPDX-License-Identifier: GPL-3.0-or-later
// Inside storage: the stable keys under which kinds are written. A key, once in a released file,
// never changes its meaning; the words on the screen may.
//
// fromKey() of a key that this program does not know fails with Damaged: the schema version says
// which keys may occur, so an unknown one is a flipped bit or a foreign hand.
#pragma once

#include "core/common/result.h"
#include "core/dayplan/round.h"
#include "core/fieldlog/visit.h"
#include "core/inventory/valve.h"
#include "core/streets/street.h"

namespace keyround {

[[nodiscard]] QString storedKey(ValveType value);
[[nodiscard]] QString storedKey(ClosingDirection value);
[[nodiscard]] QString storedKey(NormalPosition value);
[[nodiscard]] QString storedKey(ValveRole value);
[[nodiscard]] QString storedKey(StreetClass value);
[[nodiscard]] QString storedKey(OneWay value);
[[nodiscard]] QString storedKey(JunctionRule value);
[[nodiscard]] QString storedKey(RoundState value);
[[nodiscard]] QString storedKey(PassDirection value);
[[nodiscard]] QString storedKey(Position value);
[[nodiscard]] QString storedKey(UnitSystem value);

/// Sets the value; the Status of an unknown key names it.
[[nodiscard]] Status fromKey(const QString &key, ValveType &value);
[[nodiscard]] Status fromKey(const QString &key, ClosingDirection &value);
[[nodiscard]] Status fromKey(const QString &key, NormalPosition &value);
[[nodiscard]] Status fromKey(const QString &key, ValveRole &value);
[[nodiscard]] Status fromKey(const QString &key, StreetClass &value);
[[nodiscard]] Status fromKey(const QString &key, OneWay &value);
[[nodiscard]] Status fromKey(const QString &key, JunctionRule &value);
[[nodiscard]] Status fromKey(const QString &key, RoundState &value);
[[nodiscard]] Status fromKey(const QString &key, PassDirection &value);
[[nodiscard]] Status fromKey(const QString &key, Position &value);
[[nodiscard]] Status fromKey(const QString &key, UnitSystem &value);

/// An id column: a UUID, or empty for none.
[[nodiscard]] inline QString idColumn(const QUuid &uuid)
{
    return uuid.isNull() ? QString() : uuid.toString(QUuid::WithoutBraces);
}

} // namespace keyround
