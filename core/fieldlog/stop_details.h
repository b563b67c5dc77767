// SPDX-License-Identifier: GPL-3.0-or-later
// What a visit may say besides how the valve was found, turned and left: the search for it, its lid
// and box, where the lid truly lies, the set-up that stood. Each is there only when somebody said
// it. The keys are what files hold: once released, a key keeps its meaning.
//
// The words are the trade's own (common practice, no source).
#pragma once

#include "core/common/clock.h"
#include "core/common/units.h"
#include "core/geo/point.h"

#include <QJsonObject>
#include <QString>

#include <optional>

namespace keyround {

enum class SearchOutcome {
    UnderWay, ///< nobody has given up yet
    Found,
    PavedOver, ///< it is there (a signal, the ties agree), under the pavement or the ground
    NotFound,
};
[[nodiscard]] QString wordFor(SearchOutcome outcome);

/// How a lid was looked for, and what came of it.
struct SearchRecord
{
    bool measured = false; ///< from the ties, or from what else is drawn
    bool probed = false;
    bool detector = false; ///< metal or magnetic locator
    bool askedOffice = false;
    SearchOutcome outcome = SearchOutcome::UnderWay;
    friend bool operator==(const SearchRecord &, const SearchRecord &) = default;
};
/// "measured from the ties, probed: not found".
[[nodiscard]] QString wordsFor(const SearchRecord &search);

enum class LidCondition { Good, Stuck, Broken, Missing };
inline constexpr int lidConditionCount = 4;
[[nodiscard]] QString wordFor(LidCondition lid);

enum class BoxCondition { Clean, Dirty, Full, Shifted, WrongHeight };
inline constexpr int boxConditionCount = 5;
[[nodiscard]] QString wordFor(BoxCondition box);

/// Where a receiver, held over the lid, had it.
struct LidFix
{
    GeoPoint place;
    std::optional<Metres> accuracy; ///< as the receiver estimates it
    QString quality;                ///< the kind of fix, by its key; empty: not told
    Moment takenAt;
    friend bool operator==(const LidFix &, const LidFix &) = default;
};

/// The work zone that stood, in the words that the crew saw.
struct SetUpStood
{
    QString what; ///< empty: it was ticked, and no set-up was worked out for the place
    friend bool operator==(const SetUpStood &, const SetUpStood &) = default;
};

[[nodiscard]] QString keyFor(LidCondition lid);
[[nodiscard]] QString keyFor(BoxCondition box);
[[nodiscard]] std::optional<LidCondition> lidConditionFromKey(const QString &key);
[[nodiscard]] std::optional<BoxCondition> boxConditionFromKey(const QString &key);

// As JSON, in visits and in half-typed stops alike. Reading gives nothing for what was not written
// by toJson().
[[nodiscard]] QJsonObject toJson(const SearchRecord &search);
[[nodiscard]] std::optional<SearchRecord> searchRecordFromJson(const QJsonObject &json);
[[nodiscard]] QJsonObject toJson(const LidFix &fix);
[[nodiscard]] std::optional<LidFix> lidFixFromJson(const QJsonObject &json);
[[nodiscard]] QJsonObject toJson(const SetUpStood &stood);
[[nodiscard]] std::optional<SetUpStood> setUpStoodFromJson(const QJsonObject &json);

} // namespace keyround
