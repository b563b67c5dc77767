// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/fix.h"

#include <QStringList>

#include <algorithm>
#include <array>

namespace keyround {

namespace {

struct QualityInfo
{
    FixQuality quality;
    int figure; ///< GGA's
    char mode;  ///< RMC's; 0 where it has none
    const char *key;
    const char *words;
    double rangeError; ///< metres; 0: none is known
};

constexpr std::array qualities{
    QualityInfo{FixQuality::NotSaid, -1, 0, "not_said", "fix of unknown quality", 0},
    QualityInfo{FixQuality::Satellite, 1, 'A', "satellite", "satellite fix", 5},
    QualityInfo{FixQuality::Differential, 2, 'D', "differential", "differential fix", 2},
    QualityInfo{FixQuality::Precise, 3, 'P', "precise", "precise fix", 2},
    QualityInfo{FixQuality::RtkFixed, 4, 'R', "rtk_fixed", "RTK fixed", 0.05},
    QualityInfo{FixQuality::RtkFloat, 5, 'F', "rtk_float", "RTK float", 0.5},
    QualityInfo{FixQuality::DeadReckoned, 6, 'E', "dead_reckoned", "estimated, not measured", 0},
    QualityInfo{FixQuality::Manual, 7, 'M', "manual", "typed into the receiver", 0},
    QualityInfo{FixQuality::Simulated, 8, 'S', "simulated", "simulated", 0},
};

const QualityInfo &infoOf(FixQuality quality)
{
    return qualities.at(static_cast<std::size_t>(quality));
}

template <typename Matches> std::optional<FixQuality> qualityWhere(Matches matches)
{
    const auto *const found = std::ranges::find_if(qualities, matches);
    return found == qualities.end() ? std::nullopt : std::optional(found->quality);
}

} // namespace

QString wordFor(FixQuality quality)
{
    return QString::fromLatin1(infoOf(quality).words);
}

QString keyFor(FixQuality quality)
{
    return QString::fromLatin1(infoOf(quality).key);
}

std::optional<FixQuality> fixQualityFromKey(const QString &key)
{
    return qualityWhere([&](const QualityInfo &one) { return key == QLatin1String(one.key); });
}

std::optional<FixQuality> fixQualityFromGga(int figure)
{
    return figure < 1 ? std::nullopt
                      : qualityWhere([&](const QualityInfo &one) { return one.figure == figure; });
}

std::optional<FixQuality> fixQualityFromMode(char letter)
{
    return letter == 0 ? std::nullopt
                       : qualityWhere([&](const QualityInfo &one) { return one.mode == letter; });
}

bool isMeasured(FixQuality quality)
{
    return quality != FixQuality::DeadReckoned && quality != FixQuality::Manual &&
           quality != FixQuality::Simulated;
}

QString wordFor(FixSource source)
{
    switch (source) {
    case FixSource::Receiver:
        return QStringLiteral("receiver");
    case FixSource::Log:
        return QStringLiteral("recorded log");
    case FixSource::System:
        break;
    }
    return QStringLiteral("this computer");
}

QString keyFor(FixSource source)
{
    switch (source) {
    case FixSource::Receiver:
        return QStringLiteral("receiver");
    case FixSource::Log:
        return QStringLiteral("log");
    case FixSource::System:
        break;
    }
    return QStringLiteral("system");
}

std::optional<FixSource> fixSourceFromKey(const QString &key)
{
    for (const FixSource source : {FixSource::Receiver, FixSource::Log, FixSource::System}) {
        if (key == keyFor(source)) {
            return source;
        }
    }
    return std::nullopt;
}

std::optional<Metres> estimatedAccuracy(FixQuality quality, const std::optional<double> &hdop)
{
    const double rangeError = infoOf(quality).rangeError;
    return hdop && rangeError > 0 ? std::optional(Metres{*hdop * rangeError}) : std::nullopt;
}

QString wordFor(FixState state)
{
    switch (state) {
    case FixState::NoReceiver:
        return QStringLiteral("no receiver");
    case FixState::Waiting:
        return QStringLiteral("waiting for a fix");
    case FixState::Current:
        return QStringLiteral("current");
    case FixState::Old:
        return QStringLiteral("old");
    case FixState::Lost:
        break;
    }
    return QStringLiteral("lost");
}

Seconds ageOf(const PositionFix &fix, std::int64_t steadyNow)
{
    return {static_cast<double>(std::max<std::int64_t>(0, steadyNow - fix.arrived)) / 1000.0};
}

FixState stateOf(const std::optional<PositionFix> &last, bool says, std::int64_t steadyNow,
                 const FixRules &rules)
{
    if (!last) {
        return FixState::Waiting;
    }
    const Seconds age = ageOf(*last, steadyNow);
    if (!says || age > rules.lost) {
        return FixState::Lost;
    }
    return age > rules.current ? FixState::Old : FixState::Current;
}

QString wordsFor(const PositionFix &fix, std::int64_t steadyNow, UnitSystem units)
{
    QStringList words{wordFor(fix.quality)};
    if (fix.satellites) {
        words << QStringLiteral("%1 satellites").arg(*fix.satellites);
    }
    if (fix.accuracy) {
        words << QStringLiteral("about %1").arg(lengthText(*fix.accuracy, units));
    }
    words << QStringLiteral("%1 old").arg(durationText(ageOf(fix, steadyNow)));
    return words.join(QStringLiteral(", "));
}

QDate receiverDate(const QDate &read)
{
    constexpr int firstYear = 1980;
    constexpr int century = 100;
    if (!read.isValid()) {
        return {};
    }
    const int inCentury = read.year() % century;
    const int year = inCentury >= firstYear % century
                         ? firstYear / century * century + inCentury
                         : (firstYear / century + 1) * century + inCentury;
    return {year, read.month(), read.day()};
}

} // namespace keyround
