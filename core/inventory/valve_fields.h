// SPDX-License-Identifier: GPL-3.0-or-later
// A valve's fields by name, for everything that treats them alike: import matching, the edit
// record, tables, the card, export. One list, so that a field added here appears everywhere.
#pragma once

#include "core/common/result.h"
#include "core/inventory/valve.h"

#include <QSet>
#include <QStringList>

#include <span>

namespace keyround {

enum class ValveField {
    Number,
    Place,
    Address,
    Ties,
    DepthToNut,
    Nut,
    Lid,
    Size,
    Type,
    ListedTurns,
    Closes,
    Normally,
    Role,
    InstallYear,
    Surface,
    Zone,
    CriticalCustomers,
    Remarks,
    Retired,
};

struct ValveFieldInfo
{
    ValveField field;
    const char *key;   ///< stable name in files, the edit record and --map: "listed_turns"
    const char *label; ///< on screen: "Listed turns"
};

[[nodiscard]] std::span<const ValveFieldInfo> valveFields();
[[nodiscard]] const ValveFieldInfo &infoOf(ValveField field);
[[nodiscard]] std::optional<ValveField> valveFieldFromKey(const QString &key);

/// The field as text for people, in the project's units.
[[nodiscard]] QString valveFieldText(const Valve &valve, ValveField field, UnitSystem units);
/// The field as text that setValveField() takes back unchanged, whatever the units on screen.
[[nodiscard]] QString valveFieldStored(const Valve &valve, ValveField field);
/// Reads the text as a person would type it and sets the field; on failure the valve is as it was.
/// What was not given (isBlankValue) empties the field or puts it back to its default; a number
/// must be given. Texts lose the white space around them. A place or depth that is typed just as
/// valveFieldText() shows it stays exactly as it is, because what is shown is rounded.
[[nodiscard]] Status setValveField(Valve &valve, ValveField field, const QString &text,
                                   UnitSystem units);
/// Gives one field of a valve the value that another has.
void copyValveField(Valve &to, const Valve &from, ValveField field);
/// The fields in which two valves differ (id apart).
[[nodiscard]] QList<ValveField> differingFields(const Valve &a, const Valve &b);

} // namespace keyround
