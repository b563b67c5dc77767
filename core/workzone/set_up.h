// SPDX-License-Identifier: GPL-3.0-or-later
// The set-up for one stop, worked out: tapers, buffer, signs, cones, flaggers, people and the
// minutes they take. Lengths are the shortest that the published tables allow, rounded up to whole
// feet; lengths, signs and counts that no table here gives are common practice without a source,
// and say so beside them.
#pragma once

#include "core/workzone/application.h"

#include <QDateTime>

#include <optional>
#include <vector>

namespace keyround {

/// A stretch of the road that cones mark, in the direction of the traffic that loses its lane.
struct ZonePart
{
    enum class Kind { Taper, Buffer, WorkSpace };
    Kind kind = Kind::WorkSpace;
    TaperKind taper = TaperKind::Merging; ///< of a taper
    Feet length;
    Feet spacing; ///< the most between two cones
    int cones = 0;
    QString why; ///< "12 ft at 40 mph: L = W S^2 / 60"
};

struct ZoneSign
{
    QString legend;
    Feet before;      ///< from where the transition of its approach begins
    int approach = 0; ///< 0: the traffic that loses its lane; 1: the oncoming; more: side streets
};

/// What is closed: where across the road the cones run, for counting and drawing.
struct ZoneWidth
{
    Feet closed;             ///< from the edge it is closed from
    bool fromCentre = false; ///< closed to both sides of the centre line
};

struct SetUp
{
    Application application;
    QString why;
    DurationClass duration = DurationClass::ShortDuration;
    ZoneWidth width;
    std::vector<ZonePart> parts; ///< upstream to downstream
    std::vector<ZoneSign> signs;
    int cones = 0;
    int flaggers = 0;
    int people = 2; ///< the flaggers among them
    double setUpMinutes = 0;
    double takeDownMinutes = 0;
    QStringList doubts;   ///< what the source leaves open, and how it was read
    QStringList cautions; ///< always shown with it

    /// What a person put in place of what was worked out; see applyOverride().
    struct Changed
    {
        QString by;
        QString why;
        QStringList what; ///< "cones: 14, worked out 11"
    };
    std::optional<Changed> changed;
};

/// The utility's own habits (common practice, no source).
struct SetUpHabits
{
    Feet workSpace{40};        ///< truck and lid
    int workers = 2;           ///< at the valve
    double minutesASign = 1.0; ///< to set up; taking down takes as long
    double minutesACone = 0.15;
    friend bool operator==(const SetUpHabits &, const SetUpHabits &) = default;
};

[[nodiscard]] Result<SetUp> workOutSetUp(const Site &site, const SetUpHabits &habits = {});

/// Values of the utility's own for one stop or street; empty: as worked out.
struct SetUpOverride
{
    QString name; ///< of a saved set-up; may be empty
    std::optional<int> application;
    std::optional<int> cones;
    std::optional<int> flaggers;
    std::optional<int> people;
    std::optional<Feet> taper;
    std::optional<Feet> buffer;
    QString by;
    QString why;
    friend bool operator==(const SetUpOverride &, const SetUpOverride &) = default;
};

/// Puts a person's values in place of what was worked out, and keeps both for the sheet. A taper
/// or buffer below the published figure is taken too, and said in `doubts`: the person on site
/// decides. BadInput for counts below zero, an unknown application, or an override without a name
/// of who made it.
[[nodiscard]] Result<SetUp> applyOverride(SetUp setUp, const SetUpOverride &change);

/// Cones along lengths that follow each other: one at the first end, and one at least every
/// spacing after it.
[[nodiscard]] int conesAlong(Feet length, Feet spacing);

} // namespace keyround
