// SPDX-License-Identifier: GPL-3.0-or-later
// The answers to the questions about a stop, as numbers that screen, console and project file
// share: mph; feet; a count of lanes; 0 or 1; the place of the lid or the setting by its position
// in its list. And what is usual for a street of a class: offered to be confirmed by a person,
// never taken silently.
#pragma once

#include "core/streets/street.h"
#include "core/workzone/site.h"

namespace keyround {

/// What is known of one valve's place in its street.
struct ValveSite
{
    std::optional<LidPlace> lid;
    std::optional<bool> sightIsGood;
    friend bool operator==(const ValveSite &, const ValveSite &) = default;
};

/// Everything that can be answered about a stop: the street's part and the valve's own.
struct SiteFacts
{
    StreetFacts street;
    ValveSite valve;
    friend bool operator==(const SiteFacts &, const SiteFacts &) = default;
};

/// The stable key of a question: "speed", "lane_width".
[[nodiscard]] QString keyFor(SiteQuestion question);
/// Whether the answer is remembered for the valve alone; else it holds for the whole street.
[[nodiscard]] bool isOfValve(SiteQuestion question);

[[nodiscard]] std::optional<double> answerIn(const SiteFacts &facts, SiteQuestion question);
/// BadInput for what cannot be an answer; empty forgets it.
[[nodiscard]] Status setAnswer(SiteFacts &facts, SiteQuestion question,
                               std::optional<double> answer);

struct SiteAnswer
{
    QString words; ///< "35 mph", "yes", "on the shoulder"
    double value = 0;
};
/// The answers that a large button is offered for, in order; other numbers can be typed where
/// takesNumber().
[[nodiscard]] std::vector<SiteAnswer> answersTo(SiteQuestion question, UnitSystem units);
[[nodiscard]] bool takesNumber(SiteQuestion question);
/// An answer in words, in the project's units.
[[nodiscard]] QString answerText(SiteQuestion question, double value, UnitSystem units);
/// What a person typed: a number in the project's units (mph or km/h, ft or m), or with its unit,
/// or the words of an answer.
[[nodiscard]] Result<double> readAnswer(SiteQuestion question, const QString &text,
                                        UnitSystem units);

/// What the street layer says of a street.
[[nodiscard]] StreetFacts factsOf(const Street &street);
/// What is usual for a street of this class in a town (common practice, no source), to be offered;
/// empty where nothing is usual. `urbanLowSpeedTo`: where the agency's low speed ends, in mph.
[[nodiscard]] StreetFacts usualFacts(StreetClass kind, const StreetFacts &known,
                                     double urbanLowSpeedTo);

} // namespace keyround
