// SPDX-License-Identifier: GPL-3.0-or-later
// Reading the values that people write for one thing in many ways: sizes as 6, 6", 6 in, DN150 or
// 150 mm; types, directions and positions spelled as each office likes. The same parsers serve
// file imports and what is typed on screen. Blank, NULL, N/A, - and ? mean "not given": the
// parsers return an empty optional for those, and an error only for text that says something
// which cannot be understood.
#pragma once

#include "core/common/result.h"
#include "core/inventory/features.h"
#include "core/inventory/valve.h"

#include <QDate>

#include <optional>

namespace keyround {

/// True for blank, NULL, N/A, NA, none, -, --, ?, <null>: nothing was given.
[[nodiscard]] bool isBlankValue(const QString &text);

/// What a bare number in a size column means.
enum class BareSize { Inches, Millimetres };

/// Sizes in inches to the quarter, DN names, millimetres. 0 means not given. A bare number above 96
/// is refused as inches, because it is nearly always a column of millimetres.
[[nodiscard]] Result<std::optional<NominalSize>> parseSize(const QString &text,
                                                           BareSize bare = BareSize::Inches);
[[nodiscard]] Result<std::optional<ValveType>> parseValveType(const QString &text);
/// Direction to close. R, right, CW: clockwise; L, left, CCW: counterclockwise. A text that speaks
/// of opening ("opens left", "OL", "left to open") is turned round. For a column that gives the
/// direction to open as a bare L or R, hand in "opens " before the value.
[[nodiscard]] Result<std::optional<ClosingDirection>> parseClosingDirection(const QString &text);
/// Open, O, NO, N.O., normally open; closed, C, NC, shut. 1, 0, yes and No are refused: nobody can
/// tell what was asked.
[[nodiscard]] Result<std::optional<NormalPosition>> parseNormalPosition(const QString &text);
[[nodiscard]] Result<std::optional<ValveRole>> parseValveRole(const QString &text);
/// Plant, works, pump station; tank, tower, standpipe, reservoir; well; interconnection, intertie,
/// wholesale.
[[nodiscard]] Result<std::optional<SourceKind>> parseSourceKind(const QString &text);
/// Turns in quarters: 27, 26.5, 26 1/2. Refuses negatives, more than 2,000, and finer than 1/4.
[[nodiscard]] Result<std::optional<QuarterTurns>> parseTurns(const QString &text);
/// A plain number with a decimal point; thousands marks are refused rather than guessed.
[[nodiscard]] Result<std::optional<double>> parseNumber(const QString &text);
/// Years 1850 to 2100; a full date gives its year; 0 means not given.
[[nodiscard]] Result<std::optional<int>> parseYear(const QString &text);

enum class DateOrder { Iso, MonthFirst, DayFirst };
/// ISO dates always, also with / or . between, as YYYYMMDD, and dates that name the month with a
/// year of four digits; a time behind it is set aside. 3/4/2021 only when the order is given (else
/// an error that asks for it).
[[nodiscard]] Result<std::optional<QDate>> parseDate(const QString &text,
                                                     std::optional<DateOrder> order);

} // namespace keyround
