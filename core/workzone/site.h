// SPDX-License-Identifier: GPL-3.0-or-later
// What a set-up is worked out from: the street, where the lid lies in it, and what the person on
// site sees. What the street layer does not know is asked once and kept with the street.
#pragma once

#include "core/workzone/published_figures.h"

#include <QString>

#include <optional>
#include <vector>

namespace keyround {

/// Where the lid lies, and therefore what is taken from the traffic.
enum class LidPlace {
    OutsideRoad, ///< beyond the shoulder: verge, pavement for walkers
    Shoulder,
    LaneEdge, ///< a foot or two into the lane; what is left of it still serves
    Lane,
    InnerLane, ///< of a street with more than one lane a direction
    Centre,    ///< on the centre line
    IntersectionNear,
    IntersectionFar,
    IntersectionMiddle,
    IntersectionSide,
};
[[nodiscard]] QString wordFor(LidPlace place);

/// What is known of a street, wherever it is from; empty: ask.
struct StreetFacts
{
    std::optional<double> mph; ///< posted, 85th percentile or expected speed, whichever is asked
    std::optional<int> lanes;  ///< of both directions together
    std::optional<Feet> laneWidth;
    std::optional<Feet> shoulderWidth; ///< 0: none
    std::optional<bool> isOneWay;
    std::optional<bool> isDivided;
    std::optional<RoadSetting> setting;
    std::optional<bool> isLowVolume; ///< by the road authority's own limit
    friend bool operator==(const StreetFacts &, const StreetFacts &) = default;
};

struct Site
{
    StreetFacts street;
    LidPlace lid = LidPlace::Lane;
    double minutes = 15; ///< on site, set-up and take-down among them
    /// Drivers from both sides see each other past the work; empty: ask where it decides.
    std::optional<bool> sightIsGood;
    bool isDark = false;
};

/// What can be asked about a stop; see site_answers.h for what can be answered.
enum class SiteQuestion {
    Lid,
    Speed,
    Setting,
    ShoulderWidth,
    OneWay,
    Lanes,
    LaneWidth,
    Divided,
    LowVolume,
    Sight,
};
inline constexpr int siteQuestionCount = 10;
[[nodiscard]] QString wordsFor(SiteQuestion question);

/// What is not known yet and has to be asked before a set-up can be worked out; empty when nothing
/// is. Only what this place of the lid needs; where the lid is is the caller's to know.
[[nodiscard]] std::vector<SiteQuestion> missingIn(const Site &site);
/// The same in words.
[[nodiscard]] QStringList questionsOf(const Site &site);

/// Fills what is empty in `facts` from `others`.
[[nodiscard]] StreetFacts filledFrom(StreetFacts facts, const StreetFacts &others);

} // namespace keyround
